"""A real Redis goes away under a real site: shifts are taken all the same, and messages follow when it is back, once."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode
from uuid import uuid4

import pytest

from tests.support.mail_sink import Sink
from tests.support.processes import free_port, wait_for
from tests.support.servers import answers
from tests.support.site import Site
from tests.support.sqlite import execute

pytestmark = [pytest.mark.servers, pytest.mark.slow]
TOKEN = "a" * 32
SOON_ENOUGH_S = 10.0
"""What somebody at the boards waits for; it takes well under a second on a machine that does nothing else."""


class Redis:
    """A Redis of this test's own, which keeps nothing: what it held is lost with it."""

    def __init__(self, folder: Path) -> None:
        program = shutil.which("redis-server")
        assert program, "redis-server is missing; install with:  sudo apt-get install -y redis-server"
        self.port = free_port()
        self.command = [
            program,
            "--port",
            str(self.port),
            "--bind",
            "127.0.0.1",
            "--save",
            "",
            "--dir",
            str(folder),
        ]
        self.start()

    def start(self) -> None:
        self.process = subprocess.Popen(self.command, stdout=subprocess.DEVNULL)
        wait_for(lambda: answers(self.port), seconds=20, what="Redis answers")

    def kill(self) -> None:
        """End it as a lost power would; one that hangs is ended too."""
        self.process.kill()
        self.process.wait(20)

    @property
    def url(self) -> str:
        return f"redis://127.0.0.1:{self.port}/0"


@pytest.fixture
def redis(tmp_path: Path) -> Iterator[Redis]:
    made = Redis(tmp_path)
    yield made
    made.kill()


@pytest.fixture
def sink() -> Iterator[Sink]:
    made = Sink()
    made.start()
    yield made
    made.stop()


def beside(environ: dict[str, str], deed: str) -> str:
    command = [sys.executable, "-m", "tests.support.redis_away", deed]
    ended = subprocess.run(command, env=os.environ | environ, capture_output=True, text=True, timeout=120)
    assert ended.returncode == 0, ended.stderr
    return ended.stdout.strip()


def tap(site: Site, session: str, path: str, **form: str) -> float:
    """One tap on a button of the page, which must be answered well; returns how long that took [s]."""
    line, began = HTTPConnection("127.0.0.1", site.port, timeout=60), time.monotonic()
    headers = {
        "Content-Type": "application/x-www-form-urlencoded",
        "Cookie": f"rinklog_session={session}; rinklog_csrf={TOKEN}",
        "X-CSRFToken": TOKEN,
    }
    line.request("POST", path, urlencode({"id": str(uuid4())} | form), headers)
    answer = line.getresponse()
    answer.read()
    line.close()
    assert answer.status == 302, (answer.status, path)
    return time.monotonic() - began


def test_shifts_are_taken_while_redis_is_down_and_the_message_follows_once(
    start_site: Callable[..., Site], redis: Redis, sink: Sink
) -> None:
    environ = {
        "CELERY_BROKER_URL": redis.url, "RINKLOG_SMTP_URL": sink.url, "RINKLOG_MAIL_FROM": "rink@rimvinkel.example",
    }  # fmt: skip
    site = start_site(**environ).wait_until_healthy()
    environ["RINKLOG_DATA"] = str(site.data)
    made = json.loads(beside(environ, "prepare").splitlines()[-1])
    bo, cleo, (first, second) = made["sessions"]["bo"], made["sessions"]["cleo"], made["paths"]
    redis.process.send_signal(signal.SIGSTOP)  # first it hangs: it takes calls and says nothing
    took = [tap(site, bo, first + "call-off/", reason="rain")]
    redis.kill()  # then it is gone
    took.append(tap(site, cleo, second + "take/"))
    took.append(tap(site, bo, second + "call-off/", reason="more rain"))
    assert max(took) < SOON_ENOUGH_S, took
    database = site.data / "rinklog.sqlite3"
    assert execute(database, "SELECT count(*) FROM plan_shiftplace WHERE left_at IS NULL") == [(2,)]
    assert sink.arrived == []
    redis.start()
    beside(
        environ, "tick"
    )  # as the clock does every minute; clock and worker find their way back by themselves
    wait_for(lambda: "more rain" in "".join(sink.bodies()), seconds=150, what="the messages follow")
    for _again in range(2):
        beside(environ, "send")
    assert sink.times_said(["Called off: ", ". rain", ". more rain"]) == {
        "Called off: ": 2,
        ". rain": 1,
        ". more rain": 1,
    }
    assert set(sink.to) == {"cleo@rimvinkel.example"}
    settled = execute(database, "SELECT state, tries, count(*) FROM telling_delivery GROUP BY state, tries")
    assert settled == [("sent", 1, 2)]
