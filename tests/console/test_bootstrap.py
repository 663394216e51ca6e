"""A bare clone's first start, on machines that lack something. The package to install is a tiny one made here."""

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PYTHON = getattr(sys, "_base_executable", sys.executable)
COMMAND = "print-place"


@pytest.fixture
def clone(tmp_path: Path) -> Path:
    """A bare clone in small: the real door, one tiny requirement that lies beside it, and one command."""
    folder = tmp_path / "clone"
    (folder / "rinklog" / "console").mkdir(parents=True)
    (folder / "tests").mkdir()
    for name in ("manage.py", "rinklog/__init__.py", "rinklog/bootstrap.py", "rinklog/console/__init__.py"):
        shutil.copy(ROOT / name, folder / name)
    (folder / "rinklog/console/door.py").write_text(
        "import sys\ndef enter(argv):\n    import tiny\n    print(sys.prefix, tiny.WORD, *argv[1:])\n    return 7\n"
    )
    wheel(tmp_path / "wheels")
    (folder / "requirements.txt").write_text("tiny==1.0  # a comment\n")
    (folder / "tests/requirements.txt").write_text("")
    return folder


def wheel(folder: Path) -> None:
    """Make the smallest package that pip installs."""
    from zipfile import ZipFile

    folder.mkdir()
    with ZipFile(folder / "tiny-1.0-py3-none-any.whl", "w") as file:
        file.writestr("tiny.py", "WORD = 'tiny-is-here'\n")
        file.writestr("tiny-1.0.dist-info/METADATA", "Metadata-Version: 2.1\nName: tiny\nVersion: 1.0\n")
        file.writestr(
            "tiny-1.0.dist-info/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
        )
        file.writestr("tiny-1.0.dist-info/RECORD", "")


def environment(clone: Path, **more: str) -> dict[str, str]:
    """No network, no settings of this machine: pip finds the wheels beside the clone or nothing."""
    kept = {"PATH": os.environ["PATH"], "HOME": str(clone.parent), "LANG": "C.UTF-8"}
    wheels = {
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": str(clone.parent / "wheels"),
        "PIP_CONFIG_FILE": os.devnull,
    }
    return {**kept, **wheels, **more}


def start(clone: Path, *arguments: str, **environ: str) -> "subprocess.CompletedProcess[str]":
    """Start a command of the clone with the machine's own Python."""
    command = [PYTHON, str(clone / "manage.py"), *(arguments or (COMMAND, "two words"))]
    return subprocess.run(
        command, env=environment(clone, **environ), capture_output=True, text=True, timeout=120
    )


def test_a_bare_clone_makes_its_environment_and_goes_on_inside_it(clone: Path) -> None:
    ended = start(clone)
    assert ended.returncode == 7, ended.stderr
    assert ended.stdout == f"{clone}/.venv tiny-is-here {COMMAND} two words\n"
    assert "making .venv" in ended.stderr
    assert "installing requirements.txt" in ended.stderr


def test_a_second_start_does_no_work(clone: Path) -> None:
    start(clone)
    started = time.perf_counter()
    ended = start(clone)
    assert (ended.returncode, ended.stderr) == (7, "")
    assert time.perf_counter() - started < 1.0


def test_a_changed_requirement_is_installed_at_the_next_start(clone: Path) -> None:
    start(clone)
    (clone / "requirements.txt").write_text("tiny==1.0\n# one more line\n")
    assert start(clone).stderr == ""  # nothing is missing, so nothing is installed
    (clone / "requirements.txt").write_text("tiny==2.0\n")
    ended = start(clone)
    assert ended.returncode == 1
    assert "tiny==2.0" in ended.stderr


def test_only_commands_that_test_install_what_tests_need(clone: Path) -> None:
    (clone / "requirements.txt").write_text("tiny==1.0\n")
    start(clone)
    (clone / "tests/requirements.txt").write_text("tiny==2.0\n")
    assert start(clone, COMMAND).returncode == 7
    assert "tiny==2.0" in start(clone, "test").stderr
    assert "tiny==2.0" in start(clone, "bench").stderr


def test_without_venv_it_prints_the_exact_command_and_stops(clone: Path) -> None:
    lacking = clone.parent / "lacking" / "ensurepip"
    lacking.mkdir(parents=True)
    (lacking / "__init__.py").write_text("raise ImportError('No module named ensurepip')")
    ended = start(clone, PYTHONPATH=str(lacking.parent))
    assert ended.returncode == 1
    assert ended.stdout == ""
    assert "apt-get install -y python3" in ended.stderr
    assert "-venv\n" in ended.stderr
    assert ended.stderr.count("\n") == 1
    assert not (clone / ".venv").exists()


def test_without_network_it_says_so(clone: Path) -> None:
    index = {"PIP_NO_INDEX": "", "PIP_INDEX_URL": "http://127.0.0.1:9/simple", "PIP_RETRIES": "1"}
    ended = start(clone, **index, PIP_FIND_LINKS="")
    assert ended.returncode == 1
    assert ended.stderr.splitlines()[-1].startswith("rinklog: no network")
    assert "Traceback" not in ended.stderr
    assert start(clone).returncode == 7  # the same command goes on once there is one


def test_a_half_made_environment_is_repaired(clone: Path) -> None:
    start(clone)
    (clone / ".venv/rinklog-unfinished").touch()
    (clone / ".venv/rinklog-has-requirements.txt").unlink()
    shutil.rmtree(next((clone / ".venv/lib").iterdir()) / "site-packages" / "pip")
    ended = start(clone)
    assert ended.returncode == 7, ended.stderr
    assert "repairing a half-made .venv" in ended.stderr


def test_an_environment_without_its_python_is_repaired(clone: Path) -> None:
    start(clone)
    for program in (clone / ".venv/bin").glob("python*"):
        program.unlink()
    assert start(clone).returncode == 7


def test_two_starts_at_once_build_one_environment(clone: Path) -> None:
    command = [PYTHON, str(clone / "manage.py"), COMMAND]
    both = [
        subprocess.Popen(
            command, env=environment(clone), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )
        for _ in range(2)
    ]
    said = [process.communicate(timeout=120) for process in both]
    assert [process.returncode for process in both] == [7, 7], said
    assert sum("making .venv" in err for _, err in said) == 1
    assert sum("waiting for it" in err for _, err in said) == 1


def test_a_read_only_folder_is_one_sentence(clone: Path) -> None:
    refusing = clone.parent / "refusing"
    refusing.mkdir()
    (refusing / "sitecustomize.py").write_text(
        "import pathlib\ndef mkdir(self, *a, **k):\n    raise OSError(30, 'Read-only file system', str(self))\n"
        "pathlib.Path.mkdir = mkdir\n"
    )
    ended = start(clone, PYTHONPATH=str(refusing))
    assert ended.returncode == 1
    assert ended.stderr.splitlines()[-1].startswith(f"rinklog: the folder {clone} cannot be written")
    assert "Traceback" not in ended.stderr


def test_a_full_disk_is_one_sentence(clone: Path) -> None:
    refusing = clone.parent / "refusing"
    refusing.mkdir()
    (refusing / "sitecustomize.py").write_text(
        "import sys\nif 'venv' in sys.argv or '-m' in sys.orig_argv:\n"
        "    sys.stderr.write('OSError: [Errno 28] No space left on device\\n'); sys.stderr.flush()\n"
        "    import os; os._exit(1)\n"
    )
    ended = start(clone, PYTHONPATH=str(refusing))
    assert ended.returncode == 1
    assert ended.stderr.splitlines()[-1].startswith("rinklog: the disk is full")


def test_an_old_python_is_one_sentence(clone: Path) -> None:
    older = clone.parent / "older"
    older.mkdir()
    (older / "sitecustomize.py").write_text("import sys\nsys.version_info = (3, 9, 2, 'final', 0)\n")
    ended = start(clone, PYTHONPATH=str(older))
    assert ended.returncode == 1
    assert ended.stderr == "rinklog: this Python is 3.9.2; rinklog needs 3.11 or newer.\n"


def test_it_can_be_told_to_stay_out_of_the_way(clone: Path) -> None:
    ended = start(clone, RINKLOG_NO_BOOTSTRAP="1")
    assert "No module named 'tiny'" in ended.stderr
    assert not (clone / ".venv").exists()


def test_the_door_is_written_so_that_an_old_python_can_read_it() -> None:
    import ast

    for name in ("manage.py", "rinklog/bootstrap.py", "rinklog/__init__.py"):
        ast.parse((ROOT / name).read_text(), feature_version=(3, 7))
