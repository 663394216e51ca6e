"""Workers killed by SIGKILL in mid-task, on the queue folder and on Redis: everything due happens, seen once."""

import datetime as dt
import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from tests.support.killed_plan import DAYS, RINKS
from tests.support.processes import descendants, living, wait_for

pytestmark = [pytest.mark.servers, pytest.mark.slow]
KILLS = 5
PATIENCE_S = 90


def helper(deed: str, environ: dict[str, str], *more: str) -> str:
    command = [sys.executable, "-m", "tests.support.killed_plan", deed, *more]
    done = subprocess.run(command, env=os.environ | environ, capture_output=True, text=True, timeout=180)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def summary(environ: dict[str, str]) -> dict[str, Any]:
    return dict(json.loads(helper("summary", environ).splitlines()[-1]))


class Worker:
    """A real Celery worker with two pool processes."""

    def __init__(self, environ: dict[str, str], folder: Path) -> None:
        command = [sys.executable, "-m", "celery", "-A", "rinklog.celery", "worker", "-c", "2", "-l", "INFO"]
        self.log = folder / f"worker-{time.monotonic_ns()}.log"
        with self.log.open("wb") as out:
            self.process = subprocess.Popen(
                [*command, "--without-gossip", "--without-mingle"],
                env=os.environ | environ, stdout=out, stderr=out, start_new_session=True,
            )  # fmt: skip

    def wait_for_work(self) -> None:
        """Until it has taken a sweep of rinks."""
        wait_for(lambda: "plan.sweep_rinks" in self.log.read_text(), seconds=60, what="a sweep is under way")

    def kill(self) -> None:
        """End it and everything below it at once, as a lost power would."""
        below = descendants(self.process.pid)
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(20)
        wait_for(lambda: not living(below), seconds=20, what="its pool ended with it")


def run(environ: dict[str, str], folder: Path, anchor: dt.datetime, kills: int) -> dict[str, Any]:
    """Prepare a site, kill workers in mid-task, let the last one finish; returns what came of it."""
    folder.mkdir()
    environ = environ | {"RINKLOG_DATA": str(folder), "DATABASE_URL": ""}
    helper("prepare", environ, anchor.isoformat())
    rnd = random.Random(kills)
    for _kill in range(kills):
        helper("queue", environ)
        worker = Worker(environ, folder)
        worker.wait_for_work()
        time.sleep(rnd.uniform(0.05, 0.9))
        worker.kill()
    helper("queue", environ)  # the clock strikes again
    worker = Worker(environ, folder)
    try:
        wait_for(lambda: finished(environ), seconds=PATIENCE_S, what="everything due has happened")
    finally:
        worker.kill()
    return summary(environ)


def finished(environ: dict[str, str]) -> bool:
    now = summary(environ)
    time.sleep(1)
    return (
        now["alarms"] == RINKS
        and now["standing"] == 0
        and len(now["dates"]) == DAYS * RINKS
        and now == summary(environ)
    )


@pytest.fixture(scope="module")
def anchor() -> dt.datetime:
    """A moment a little ago, the same for every run."""
    return dt.datetime.now(dt.UTC).replace(microsecond=0) - dt.timedelta(minutes=5)


@pytest.fixture(scope="module")
def undisturbed(tmp_path_factory: pytest.TempPathFactory, anchor: dt.datetime) -> dict[str, Any]:
    """What comes of it when no worker is killed."""
    return run({"CELERY_BROKER_URL": ""}, tmp_path_factory.mktemp("calm") / "site", anchor, kills=0)


def same(one: dict[str, Any], other: dict[str, Any]) -> None:
    for what in ("told", "dates", "standing", "alarms"):
        assert one[what] == other[what], what
    assert max(one["dates"].values()) == 1


def test_without_kills_everything_happens(undisturbed: dict[str, Any]) -> None:
    told = undisturbed["told"]
    kinds = ("off-ice-alarm", "shift-unfilled", "shift-handed-back", "shift-offered")
    assert {key.split()[-1] for key in told} >= set(kinds)
    assert (
        sum(count for key, count in told.items() if key.endswith("off-ice-alarm")) == RINKS
    )  # Bo, once a rink
    assert undisturbed["left_running"] == 0
    assert {"plan.sweep", "plan.sweep_rinks", "plan.watch_ice"} <= set(undisturbed["tasks"])


def test_killed_workers_double_and_lose_nothing_with_the_queue_folder(
    tmp_path: Path, anchor: dt.datetime, undisturbed: dict[str, Any]
) -> None:
    same(run({"CELERY_BROKER_URL": ""}, tmp_path / "site", anchor, KILLS), undisturbed)


def test_killed_workers_double_and_lose_nothing_with_redis(
    tmp_path: Path, anchor: dt.datetime, undisturbed: dict[str, Any], redis_server: str
) -> None:
    killed = run({"CELERY_BROKER_URL": redis_server}, tmp_path / "site", anchor, KILLS)
    same(killed, undisturbed)
    assert killed["left_running"] > 0  # some were cut off in mid-task, and the keeper's page says so
