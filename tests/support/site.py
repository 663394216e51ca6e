"""A real site: `manage.py up` with a data folder and ports of its own."""

import json
import os
import re
import signal
import ssl
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from tests.support.processes import descendants, free_port, living, wait_for

ROOT = Path(__file__).resolve().parents[2]


class Site:
    """One running `up`."""

    def __init__(self, data: Path, *arguments: str, **environ: str) -> None:
        self.data = data
        data.mkdir(parents=True, exist_ok=True)
        self.port = free_port()
        self.said, self.complained = data / "up-said.txt", data / "up-complained.txt"
        command = [
            sys.executable,
            str(ROOT / "manage.py"),
            "up",
            "--port",
            str(self.port),
            "--data",
            str(data),
        ]
        with self.said.open("wb") as out, self.complained.open("wb") as err:
            self.process = subprocess.Popen(
                [*command, *arguments],
                env={**os.environ, **environ},
                stdin=subprocess.DEVNULL,
                stdout=out,
                stderr=err,
                start_new_session=True,
            )

    @property
    def url(self) -> str:
        """Where this machine opens it."""
        return f"http://127.0.0.1:{self.port}"

    @property
    def https_url(self) -> str:
        """Where a phone would, through loopback."""
        found = re.search(r"https://\S+:(\d+)/", self.banner)
        assert found, self.banner
        return f"https://127.0.0.1:{found[1]}"

    @property
    def banner(self) -> str:
        """What `up` printed on stdout."""
        return self.said.read_text()

    @property
    def claim_path(self) -> str:
        """The path of the one-time link, or nothing."""
        found = re.search(r"http://localhost:\d+(/claim/\S+/)", self.banner)
        return found[1] if found else ""

    def health(self) -> tuple[int, dict[str, Any]]:
        """The status and the parts, or (0, {}) while nobody answers."""
        try:
            with urllib.request.urlopen(f"{self.url}/health", timeout=5) as reply:
                return reply.status, json.load(reply)
        except urllib.error.HTTPError as error:
            with error:
                return error.code, json.load(error)
        except OSError:
            return 0, {}

    def wait_until_healthy(self, seconds: float = 180) -> "Site":
        """Wait for /health to answer 200."""
        try:
            wait_for(self._ended_or_healthy, seconds=seconds, what="/health answers 200")
        except AssertionError as error:
            raise AssertionError(f"{error}; {self.health()}; {self.complained.read_text()}") from None
        assert self.process.poll() is None, self.complained.read_text()
        return self

    def _ended_or_healthy(self) -> bool:
        return self.process.poll() is not None or self.health()[0] == 200

    def fetch(self, path: str) -> tuple[int, bytes]:
        """Get a page over HTTPS, whatever the certificate."""
        context = ssl._create_unverified_context()
        with urllib.request.urlopen(self.https_url + path, timeout=10, context=context) as reply:
            return reply.status, reply.read()

    def processes(self) -> set[int]:
        """Every process below `up`."""
        return descendants(self.process.pid)

    def children(self, word: str) -> set[int]:
        """Those processes whose command line has a word."""
        return {pid for pid in self.processes() if word in command_line(pid)}

    def stop(self, sign: signal.Signals = signal.SIGTERM) -> set[int]:
        """End it by a signal; returns the processes that were left after a fair wait."""
        started = self.processes()
        if self.process.poll() is None:
            self.process.send_signal(sign)
            self.process.wait(30)
        wait_until_gone(started)
        return living(started)


def wait_until_gone(pids: set[int], seconds: float = 15) -> None:
    """Give processes time to end; who stays is the caller's to judge."""
    try:
        wait_for(lambda: not living(pids), seconds=seconds, what="all ended")
    except AssertionError:
        return


def command_line(pid: int) -> str:
    """A process's command line, or nothing when it is gone."""
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes().replace(b"\0", b" ").decode(errors="replace")
    except OSError:
        return ""


@pytest.fixture
def start_site(tmp_path: Path) -> Iterator[Callable[..., Site]]:
    """Call it for a site: start_site("--demo", name="second", CELERY_BROKER_URL=…)."""
    started: list[Site] = []

    def start(*arguments: str, name: str = "site", **environ: str) -> Site:
        started.append(Site(tmp_path / name, *arguments, **environ))
        return started[-1]

    yield start
    for site in started:
        for pid in site.stop(signal.SIGKILL):  # the quickest end; test_up proves that it leaves nothing
            with suppress(ProcessLookupError):  # it ended by itself meanwhile
                os.kill(pid, signal.SIGKILL)


@pytest.fixture
def site(start_site: Callable[..., Site]) -> Site:
    """A healthy site."""
    return start_site().wait_until_healthy()
