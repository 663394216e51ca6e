"""The supervisor by itself, with children that are one-line programs."""

import subprocess
import sys
from pathlib import Path

PROGRAM = """
import os, signal, sys, threading
from pathlib import Path
from rinklog.console.supervisor import Child, Supervisor
keeper = Supervisor(Path({folder!r}), patience_s=1.0)
keeper.add(Child("child", [sys.executable, "-c", {child!r}], os.environ, pause_s=0.05))
threading.Timer({seconds}, os.kill, [os.getpid(), signal.SIGTERM]).start()
keeper.run()
"""


def supervise(
    folder: Path, root: Path, child: str, seconds: float = 1.5
) -> "subprocess.CompletedProcess[str]":
    """Run one child under a supervisor for a while."""
    program = PROGRAM.format(folder=str(folder), child=child, seconds=seconds)
    return subprocess.run(
        [sys.executable, "-c", program],
        cwd=root,
        capture_output=True,
        text=True,
        timeout=30,
        stdin=subprocess.DEVNULL,
    )


def test_what_a_child_says_goes_to_its_log_and_only_alarms_to_the_terminal(
    tmp_path: Path, root: Path
) -> None:
    child = "import time; print('calm words', flush=True); print('ERROR smoke in the hut', flush=True); time.sleep(60)"
    ended = supervise(tmp_path, root, child)
    assert (tmp_path / "child.log").read_text() == "calm words\nERROR smoke in the hut\n"
    assert ended.stderr == "child: ERROR smoke in the hut\n"
    assert ended.stdout == ""


def test_a_child_that_keeps_failing_is_started_again_with_growing_pauses(tmp_path: Path, root: Path) -> None:
    ended = supervise(tmp_path, root, "raise SystemExit(3)", seconds=3)
    pauses = [line.split(" in ")[1].split(" s")[0] for line in ended.stderr.splitlines()]
    assert pauses[:4] == ["0.05", "0.1", "0.2", "0.4"]
    assert all("child ended (3)" in line for line in ended.stderr.splitlines())


def test_a_child_that_will_not_stop_is_ended(tmp_path: Path, root: Path) -> None:
    child = (
        "import signal as s, time; s.signal(s.SIGTERM, s.SIG_IGN); print('deaf', flush=True); time.sleep(60)"
    )
    ended = supervise(tmp_path, root, child)
    assert ended.returncode == 0
    assert (tmp_path / "child.log").read_text() == "deaf\n"


def test_a_flood_of_words_is_kept_in_files_of_bounded_size(tmp_path: Path, root: Path) -> None:
    child = "import time\nfor n in range(120_000): print('x' * 99)\nprint('end', flush=True); time.sleep(60)"
    supervise(tmp_path, root, child, seconds=8)
    sizes = [path.stat().st_size for path in tmp_path.iterdir()]
    assert len(sizes) == 4
    assert max(sizes) <= 2_000_000
    assert (tmp_path / "child.log").read_text().endswith("end\n")
