"""Posting a flood: what the checks, the fingerprint and the history cost over a bare view with the same INSERTs."""

import os
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from statistics import quantiles
from urllib.parse import urlencode
from uuid import uuid4

from tests.bench.measure import Row, alternate, at_least, at_most, comparison
from tests.bench.one import database

CLIENTS = 8
TURN_S = 5.0
TURNS = 6  # 30 s a side


def prepare() -> tuple[str, str, dict[str, object]]:
    """An empty site with the cast of the tests; returns Cleo's session, the rink's slug and a flood as posted."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.bench.settings"
    database()
    from django.test import Client

    from tests.support.cast import make_cast

    cast = make_cast()
    client = Client()
    client.force_login(cast.cleo)
    post: dict[str, object] = {
        "rink": cast.rink.slug,
        "zones": [zone.id for zone in cast.zones[8:10]],
        "by": "amount",
        "amount": "400",
        "water": "cold",
        "tool": "hose",
        "started": "2026-01-15T21:00",
        f"minutes-{cast.cleo.id}": "45",
    }
    return client.cookies["rinklog_session"].value, cast.rink.slug, post


@comparison("post-flood")
def post_flood() -> Row:
    """The time of one POST, in the same process, the same middleware, session and login."""
    session, slug, post = prepare()
    from django.conf import settings
    from django.test import Client

    from rinklog.work.models import Entry

    settings.ALLOWED_HOSTS = ["*"]
    client = Client()
    client.cookies["rinklog_session"] = session

    def sent(address: str) -> None:
        answer = client.post(address, post | {"id": str(uuid4())})
        assert answer.status_code == 302, answer.status_code

    ours, against = alternate(
        lambda: sent(f"/r/{slug}/log/flood/"), lambda: sent("/bare/"), rounds=200, warm=10
    )
    assert Entry.objects.count() == 420
    return at_most("post-flood", ours * 1000, against * 1000, times=2, unit="ms")


@comparison("sqlite-writers")
def sqlite_writers() -> Row:
    """Eight clients at once against real gunicorn workers on one SQLite file."""
    session, slug, post = prepare()
    with served() as port:
        ours, bare = Tally(), Tally()
        for turn in range(TURNS):
            both = [(f"/r/{slug}/log/flood/", ours), ("/bare/", bare)]
            for address, tally in both if turn % 2 else reversed(both):
                crowd(port, address, session, post, tally)
    stored = count_entries()
    answered = ours.good + bare.good
    slow_s = quantiles(ours.taken, n=100)[-1]
    note = f"{ours.bad} of {ours.good + ours.bad} failed, slowest 1 % from {slow_s:.2f} s, {stored} stored of {answered}"
    fine = ours.bad == 0 and slow_s < 2 and stored == answered
    rates = ours.good / (TURNS * TURN_S), bare.good / (TURNS * TURN_S)
    return at_least("sqlite-writers", *rates, times=0.5, unit="good writes/s", also=fine, note=note)


class Tally:
    """What a crowd of clients saw."""

    def __init__(self) -> None:
        self.taken: list[float] = []
        self.bad = 0

    @property
    def good(self) -> int:
        """Posts that were answered as stored."""
        return len(self.taken) - self.bad


def crowd(port: int, address: str, session: str, post: dict[str, object], tally: Tally) -> None:
    """Eight clients post without pause for one turn."""
    until = time.monotonic() + TURN_S
    threads = [
        threading.Thread(target=poster, args=(port, address, session, post, tally, until))
        for _ in range(CLIENTS)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def poster(
    port: int, address: str, session: str, post: dict[str, object], tally: Tally, until: float
) -> None:
    """One phone on one connection."""
    token = "a" * 32
    headers = {
        "Content-Type": "application/x-www-form-urlencoded",
        "Cookie": f"rinklog_session={session}; rinklog_csrf={token}",
        "X-CSRFToken": token,
    }
    line = HTTPConnection("127.0.0.1", port, timeout=60)
    while time.monotonic() < until:
        began = time.perf_counter()
        line.request("POST", address, urlencode(post | {"id": str(uuid4())}, doseq=True), headers)
        answer = line.getresponse()
        answer.read()
        tally.taken.append(time.perf_counter() - began)
        tally.bad += answer.status != 302
    line.close()


@contextmanager
def served() -> Iterator[int]:
    """The site and the bare view behind the web server of `up`, on a port of their own."""
    from tests.support.processes import end, free_port, wait_for
    from tests.support.servers import answers

    port = free_port()
    command = ["gunicorn", "-c", "python:rinklog.console.gunicorn_settings", "--bind", f"127.0.0.1:{port}"]
    process = subprocess.Popen(
        [sys.executable, "-m", *command, "rinklog.wsgi:application"], stderr=subprocess.DEVNULL
    )
    try:
        wait_for(lambda: answers(port), seconds=30, what="the web server answers")
        yield port
    finally:
        end(process.pid)
        process.wait()


def count_entries() -> int:
    """How many entries the database holds."""
    from rinklog.work.models import Entry

    return Entry.objects.count()
