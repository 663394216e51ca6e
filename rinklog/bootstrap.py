"""Make or find `.venv`, install what is missing, and go on inside it. Standard library only.

This file is read by whatever `python3` the machine has, so it keeps to syntax that old versions understand:
an old Python must get as far as the sentence that says so.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
OLDEST = (3, 11)
RUNTIME = "requirements.txt"
TESTS = "tests/requirements.txt"
COMMANDS_WITH_TESTS = ("test", "bench", "torture")
# There while pip works: an environment found with it was left half-made, by a kill or a full disk.
UNFINISHED = VENV / "rinklog-unfinished"
_VERSION = "# on Python {}.{}".format(*sys.version_info[:2]).encode()


class StartError(Exception):
    """A sentence for the person at the terminal; nothing more can be done."""


def ensure(arguments: list[str]) -> None:
    """Return only inside an environment that has everything the command needs."""
    if os.environ.get("RINKLOG_NO_BOOTSTRAP") == "1":
        return
    try:
        _ensure(arguments)
    except StartError as error:
        sys.exit(f"rinklog: {error}")
    except KeyboardInterrupt:
        sys.exit("rinklog: stopped before the environment was complete; the same command goes on from here.")
    except OSError as error:
        sys.exit(f"rinklog: {explain(str(error))}")


def _ensure(arguments: list[str]) -> None:
    if sys.version_info < OLDEST:
        found = ".".join(str(part) for part in sys.version_info[:3])
        raise StartError(f"this Python is {found}; rinklog needs 3.11 or newer.")
    wanted = wanted_files(arguments)
    inside = sys.prefix != sys.base_prefix
    if inside and _own(VENV) and stamped(wanted):
        return
    if inside and _complete_here(wanted):
        if _own(VENV):
            _stamp(wanted)
        return
    if _own(VENV) or not stamped(wanted):
        _make(wanted)
    os.execv(str(_python()), [str(_python()), str(ROOT / "manage.py"), *arguments])


def wanted_files(arguments: list[str]) -> list[str]:
    """The requirement files a command needs."""
    command = arguments[0] if arguments else ""
    return [RUNTIME, TESTS] if command in COMMANDS_WITH_TESTS else [RUNTIME]


def stamped(wanted: list[str]) -> bool:
    """Whether `.venv` was completed with exactly these requirement files, on the Python it now has.

    The stamp is a copy of the file, so comparing costs no hashing and a person can read it.
    """
    if not _python().exists():
        return False
    for name in wanted:
        if not _stamp_file(name).exists():
            return False
        version, _, text = _stamp_file(name).read_bytes().partition(b"\n")
        if text != (ROOT / name).read_bytes() or (_own(VENV) and version != _VERSION):
            return False
    return True


def _stamp_file(name: str) -> Path:
    return VENV / ("rinklog-has-" + name.replace("/", "-"))


def _stamp(wanted: list[str]) -> None:
    for name in wanted:
        _stamp_file(name).write_bytes(_VERSION + b"\n" + (ROOT / name).read_bytes())


def _own(venv: Path) -> bool:
    """Whether this very process runs inside the project's `.venv`."""
    return os.path.realpath(sys.prefix) == os.path.realpath(str(venv))


def _python() -> Path:
    return VENV / "bin" / "python"


def _complete_here(wanted: list[str]) -> bool:
    """Whether the active environment already has every pinned version."""
    from importlib import metadata

    for name in wanted:
        for line in (ROOT / name).read_text().splitlines():
            package, _, version = line.partition("#")[0].strip().partition("==")
            try:
                if package and metadata.version(package.split("[")[0]) != version:
                    return False
            except metadata.PackageNotFoundError:
                return False
    return True


def _make(wanted: list[str]) -> None:
    with _alone():
        if not _own(VENV) and stamped(wanted):
            return
        if not _works():
            _new()
        if subprocess.call([str(_python()), "-c", _CHECK, *wanted]) == 0:
            return
        say("installing what is missing into .venv (the first time takes a few minutes)")
        UNFINISHED.touch()
        for name in wanted:
            _install(name)
        UNFINISHED.unlink()
        if subprocess.call([str(_python()), "-c", _CHECK, *wanted]) != 0:
            raise StartError(
                "the installation ended, but something is still missing; remove .venv and try again."
            )


# Run by the environment's own Python: stamps it when complete, else exits 1.
_CHECK = (
    f"import sys; sys.path.insert(0, {str(ROOT)!r}); from rinklog import bootstrap as b; w = sys.argv[1:]; "
    "c = b._complete_here(w); c and b._stamp(w); sys.exit(not c)"
)


@contextmanager
def _alone() -> Iterator[None]:
    """Only one process builds at a time; the lock is the project folder itself, so no file is left."""
    import fcntl

    handle = os.open(str(ROOT), os.O_RDONLY)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("another start is preparing .venv; waiting for it")
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _works() -> bool:
    """Whether `.venv` has a Python that runs and has pip: a half-made one has not."""
    if UNFINISHED.exists() or not _python().exists():
        return False
    return _quiet([str(_python()), "-c", f"import pip, sys; sys.exit(sys.version_info < {OLDEST!r})"]) == 0


def _quiet(command: list[str]) -> int:
    return subprocess.call(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def _new() -> None:
    base = getattr(sys, "_base_executable", sys.executable)
    if _quiet([base, "-c", "import ensurepip, venv"]) != 0:
        raise StartError(
            f"this Python cannot make a virtual environment; install that part with:  {apt_line()}"
        )
    if os.path.islink(str(VENV)):
        os.unlink(str(VENV))
    elif VENV.exists():
        say("repairing a half-made .venv")
        shutil.rmtree(str(VENV))
    say("making .venv")
    VENV.mkdir()
    UNFINISHED.touch()
    _run([base, "-m", "venv", str(VENV)])


def apt_line() -> str:
    """The exact command that installs what this Python lacks."""
    version = "python{}.{}".format(*sys.version_info[:2])
    package = "python3-venv" if os.path.realpath("/usr/bin/python3").endswith(version) else version + "-venv"
    return ("" if os.geteuid() == 0 else "sudo ") + "apt-get install -y " + package


def _install(name: str) -> None:
    say("installing " + name)
    _run(
        [
            str(_python()),
            "-m",
            "pip",
            "install",
            "--disable-pip-version-check",
            "--no-input",
            "--progress-bar",
            "off",
            "-r",
            str(ROOT / name),
        ]
    )


def _run(command: list[str]) -> None:
    """Run a command, its progress on stderr; a failure becomes one sentence."""
    process = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace"
    )
    seen = []
    for line in process.stdout or ():
        seen.append(line)
        if line.startswith(("Collecting", "Downloading", "Installing", "Successfully", "ERROR")):
            sys.stderr.write("  " + line[:110].rstrip() + "\n")
            sys.stderr.flush()
    if process.wait() != 0:
        raise StartError(explain("".join(seen)))


_CAUSES = (
    (("No space left on device", "Errno 28"), "the disk is full; make room and run the same command again."),
    (
        ("Read-only file system", "Errno 30", "Permission denied", "Errno 13"),
        f"the folder {ROOT} cannot be written by this user; rinklog keeps its .venv there.",
    ),
    (
        ("ensurepip is not available", "No module named ensurepip"),
        "this Python cannot make a virtual environment; install that part with:  {apt}",
    ),
    (
        (
            "name resolution",
            "NewConnectionError",
            "Network is unreachable",
            "ConnectTimeout",
            "Connection refused",
            "ProxyError",
            "ReadTimeout",
            "Name or service not known",
            "Max retries exceeded",
        ),
        "no network: the packages could not be fetched; connect and run the same command again.",
    ),
)


def explain(output: str) -> str:
    """Turn a failed step's output into one sentence."""
    for signs, sentence in _CAUSES:
        if any(sign in output for sign in signs):
            return sentence.replace("{apt}", apt_line())
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    return "the environment could not be made: " + (lines[-1] if lines else "no reason given")


def say(sentence: str) -> None:
    """Progress goes to stderr; stdout belongs to the command."""
    sys.stderr.write("rinklog: " + sentence + "\n")
    sys.stderr.flush()
