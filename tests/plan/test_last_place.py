"""Twenty people tap "I'll come" at the same moment: as many get a place as there are, the others are told at once."""

import json
import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode
from uuid import uuid4

import pytest

from tests.support.processes import end, free_port, wait_for
from tests.support.servers import answers
from tests.support.shift_race import CLIENTS, LEFT

pytestmark = [pytest.mark.servers, pytest.mark.slow]
TOKEN = "a" * 32


def helper(deed: str, environ: dict[str, str]) -> str:
    command = [sys.executable, "-m", "tests.support.shift_race", deed]
    done = subprocess.run(command, env=os.environ | environ, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip().splitlines()[-1]


@contextmanager
def served(environ: dict[str, str]) -> Iterator[int]:
    """The web server of `up`, on a port of its own."""
    port = free_port()
    command = ["gunicorn", "-c", "python:rinklog.console.gunicorn_settings", "--bind", f"127.0.0.1:{port}"]
    process = subprocess.Popen(
        [sys.executable, "-m", *command, "rinklog.wsgi:application"],
        env=os.environ | environ,
        stderr=subprocess.DEVNULL,
    )
    try:
        wait_for(lambda: answers(port), seconds=40, what="the web server answers")
        yield port
    finally:
        end(process.pid)
        process.wait()


class Tap(threading.Thread):
    """One phone: connected and ready, it taps when the gate opens."""

    def __init__(self, port: int, path: str, session: str, gate: threading.Barrier) -> None:
        super().__init__()
        self.line = HTTPConnection("127.0.0.1", port, timeout=60)
        self.path, self.session, self.gate = path, session, gate
        self.status, self.body = 0, ""

    def run(self) -> None:
        self.line.connect()
        headers = {
            "Content-Type": "application/x-www-form-urlencoded",
            "Cookie": f"rinklog_session={self.session}; rinklog_csrf={TOKEN}",
            "X-CSRFToken": TOKEN,
        }
        self.gate.wait()
        self.line.request("POST", self.path, urlencode({"id": str(uuid4())}), headers)
        answer = self.line.getresponse()
        self.status, self.body = answer.status, answer.read().decode()
        self.line.close()


def race(environ: dict[str, str]) -> None:
    made = json.loads(helper("prepare", environ))
    assert len(made["sessions"]) == CLIENTS
    with served(environ) as port:
        for path, left in zip(made["paths"], LEFT, strict=True):
            gate = threading.Barrier(CLIENTS)
            taps = [Tap(port, path, session, gate) for session in made["sessions"]]
            for tap in taps:
                tap.start()
            for tap in taps:
                tap.join()
            statuses = sorted(tap.status for tap in taps)
            assert statuses == [302] * left + [409] * (CLIENTS - left)
            assert all("is full" in tap.body for tap in taps if tap.status == 409)
    assert json.loads(helper("places", environ)) == [list(range(1, left + 1)) for left in LEFT]


def test_the_last_place_goes_to_one_on_sqlite(tmp_path: Path) -> None:
    race({"RINKLOG_DATA": str(tmp_path), "DATABASE_URL": ""})


def test_the_last_place_goes_to_one_on_postgresql(tmp_path: Path, postgres_server: str) -> None:
    race({"RINKLOG_DATA": str(tmp_path), "DATABASE_URL": postgres_server})
