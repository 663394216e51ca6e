"""A backup is one moment of the site, though people write while it is made; a real database file and processes."""

import os
import sqlite3
import subprocess
import sys
import threading
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
# One writer of another process: pairs of rows, each pair in one transaction, so that a torn backup has odd ones.
WRITER = """
import datetime as dt, sys, uuid, django
django.setup()
from django.db import transaction
from rinklog.crew.models import Person
from rinklog.rink.models import BucketTest, Rink
rink, by = Rink.objects.get(), Person.objects.first()
now = dt.datetime(2026, 1, 1, tzinfo=dt.UTC)
print("ready", flush=True)
for turn in range(100000):
    with transaction.atomic():
        for half in ("first", "second"):
            BucketTest.objects.create(rink=rink, hose=half, water_m3=0.02, seconds=30, by=by, measured_at=now)
        if turn % 2:
            Person.objects.filter(id=by.id).update(session_round=turn)
"""


def run(data: Path, *arguments: str) -> str:
    command = [sys.executable, "manage.py", *arguments]
    done = subprocess.run(command, cwd=ROOT, env=environ(data), capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
    return done.stdout


def environ(data: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("RINKLOG", "DATABASE"))}
    return kept | {"RINKLOG_DATA": str(data), "DJANGO_SETTINGS_MODULE": "rinklog.settings"}


@pytest.mark.slow
@pytest.mark.servers
@pytest.mark.timeout(600)
def test_a_backup_taken_while_others_write_is_whole(tmp_path: Path) -> None:
    data = tmp_path / "site"
    data.mkdir()
    run(data, "migrate", "-v0")
    run(data, "fill_demo")
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER], cwd=ROOT, env=environ(data), stdout=subprocess.PIPE, text=True
    )
    watchdog = threading.Timer(500, writer.kill)
    watchdog.start()
    try:
        assert writer.stdout is not None
        assert writer.stdout.readline() == "ready\n"
        counts = [backed_up_pairs(data, tmp_path / f"{turn}") for turn in range(2)]
        assert writer.poll() is None  # it wrote all the while
    finally:
        watchdog.cancel()
        writer.kill()
        writer.wait()
        if writer.stdout:
            writer.stdout.close()
    assert all(first == second for first, second in counts), counts
    assert counts[-1][0] > counts[0][0] > 0


def backed_up_pairs(data: Path, folder: Path) -> tuple[int, int]:
    """First and second halves in a backup made now, restored into a site of its own."""
    folder.mkdir()
    run(data, "backup", str(folder / "b.zip"))
    run(folder / "restored", "restore", str(folder / "b.zip"))
    with sqlite3.connect(folder / "restored" / "rinklog.sqlite3") as database:
        return tuple(  # type: ignore[return-value]
            database.execute("select count(*) from rink_buckettest where hose = ?", [half]).fetchone()[0]
            for half in ("first", "second")
        )
