"""Looking after real processes: free ports, waiting, who descends from whom."""

import os
import signal
import socket
import time
from collections.abc import Callable
from pathlib import Path


def free_port(span: int = 1) -> int:
    """A port of this machine that nobody uses now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def wait_for(check: Callable[[], bool], *, seconds: float, what: str) -> None:
    """Wait until a check holds, or fail and say what did not happen."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        if check():
            return
        time.sleep(0.05)
    raise AssertionError(f"after {seconds:g} s still not: {what}")


def kill_one(find: Callable[[], list[int]], *, what: str) -> None:
    """Kill the first process that is found, waiting for one; one that ended by itself meanwhile does not count."""

    def killed() -> bool:
        try:
            os.kill(find()[0], signal.SIGKILL)
        except (IndexError, ProcessLookupError):
            return False
        return True

    wait_for(killed, seconds=60, what=f"{what} is there to be killed")


def parents() -> dict[int, int]:
    """Every process of this machine → its parent."""
    found = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            text = stat.read_text()
        except OSError:
            continue
        state, parent = text.rpartition(")")[2].split()[:2]
        if state != "Z":
            found[int(stat.parent.name)] = int(parent)
    return found


def descendants(pid: int) -> set[int]:
    """Every living process that came from this one, itself left out."""
    tree, found = parents(), {pid}
    while more := {child for child, parent in tree.items() if parent in found} - found:
        found |= more
    return found - {pid}


def living(pids: set[int]) -> set[int]:
    """Those of the processes that live."""
    return pids & set(parents())


def end(pid: int, *, seconds: float = 20) -> None:
    """End a process that this test started: ask first, then insist."""
    for sign in (signal.SIGTERM, signal.SIGKILL):
        try:
            os.kill(pid, sign)
            wait_for(lambda: pid not in parents(), seconds=seconds, what=f"{pid} ended")
            return
        except ProcessLookupError:
            return
        except AssertionError:
            continue
