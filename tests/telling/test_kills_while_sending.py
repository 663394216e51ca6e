"""kill -9 of a real worker in the middle of sending: each message at most once, everything due settled, none hidden."""

import os
import subprocess
import sys
from collections.abc import Callable

import pytest

from tests.support.mail_sink import Sink
from tests.support.processes import kill_one, parents, wait_for
from tests.support.site import ROOT, Site
from tests.support.sqlite import execute

pytestmark = [pytest.mark.servers, pytest.mark.slow]
PEOPLE, KILLS = 30, 5

TELL_EVERYBODY = """
import django
django.setup()
from django.utils import timezone
from rinklog.telling.services import Wanted, tell, wish
from django.db import transaction
from rinklog.crew.models import Person
from tests.support.cast import make_cast
cast = make_cast()
with transaction.atomic():
    for n in range({people}):
        person = Person.objects.create(login=f"n{{n:02}}", name=f"N {{n}}")
        wish(person=person, wanted=Wanted(by_mail=True, mail_address=f"n{{n:02}}@rimvinkel.example"))
        tell(rink=cast.rink, people=[person], kind="storm-watch", text=f"Storm for n{{n:02}}.", url="",
             key="storm", now=timezone.now())
"""
NUDGE = """
import django
django.setup()
from celery import current_app
current_app.send_task("telling.send_waiting")
"""


def beside(site: Site, program: str, **environ: str) -> None:
    """Run a few lines with the site's own settings, as another process of it would."""
    known = {"RINKLOG_DATA": str(site.data), "DJANGO_SETTINGS_MODULE": "rinklog.settings"}
    ended = subprocess.run(
        [sys.executable, "-c", program],
        cwd=ROOT,
        env={**os.environ, **known, **environ},
        capture_output=True,
        text=True,
    )
    assert ended.returncode == 0, ended.stderr


def kill_the_worker(site: Site) -> None:
    """End the worker and, through it, the process that is sending; the pool of a dead one may still be."""
    kill_one(lambda: masters(site), what="a worker")


def masters(site: Site) -> list[int]:
    """The worker that the site itself started."""
    return [pid for pid in site.children(" worker ") if parents().get(pid) == site.process.pid]


def rows(site: Site, what: str) -> int:
    """How many deliveries are as told."""
    return int(
        execute(site.data / "rinklog.sqlite3", f"SELECT count(*) FROM telling_delivery WHERE {what}")[0][0]
    )


@pytest.mark.parametrize("broker", ["folder", "redis"])
def test_a_worker_killed_while_it_sends_doubles_nothing_and_leaves_nothing_behind(
    broker: str, start_site: Callable[..., Site], request: pytest.FixtureRequest
) -> None:
    sink = Sink()
    sink.hold_rcpt_s = sink.hold_data_s = 0.15
    environ = {"RINKLOG_SMTP_URL": sink.url, "RINKLOG_MAIL_FROM": "rink@rimvinkel.example"}
    if broker == "redis":
        environ["CELERY_BROKER_URL"] = request.getfixturevalue("redis_server")
    site = start_site(**environ).wait_until_healthy()
    sink.start()
    try:
        beside(site, TELL_EVERYBODY.format(people=PEOPLE), **environ)
        in_flight = send_with_kills(site, sink, environ)
        # What a dead worker claimed lapses after two minutes: let them have passed.
        execute(
            site.data / "rinklog.sqlite3",
            "UPDATE telling_delivery SET claimed_at = '2020-01-01' WHERE state = 'waiting'",
        )
        beside(site, NUDGE, **environ)
        wait_for(lambda: rows(site, "state = 'waiting'") == 0, seconds=120, what="all is settled")
    finally:
        sink.stop()
    check(site, sink, in_flight)


def send_with_kills(site: Site, sink: Sink, environ: dict[str, str]) -> int:
    """Kill the worker after every few mails; returns how many claims it left open in all."""
    left = 0
    for kill in range(1, KILLS + 1):
        goal = kill * PEOPLE // (KILLS + 2)
        # In turn: while the server still thinks about the address, and while it has the body but has not said so.
        seen, have = ("asked", sink.asked) if kill % 2 else ("arrived", sink.arrived)
        wait_for(lambda have=have, goal=goal: len(have) >= goal, seconds=60, what=f"{goal} {seen}")
        kill_the_worker(site)
        left = rows(site, "state = 'waiting' AND claim IS NOT NULL")
        beside(site, NUDGE, **environ)
    return left


def check(site: Site, sink: Sink, in_flight: int) -> None:
    """Each message once in the inbox; each mail at most once; one that is missing says why."""
    assert in_flight >= 1, "no kill fell into the middle of sending: the test proved nothing"
    database = site.data / "rinklog.sqlite3"
    fates = execute(
        database,
        "SELECT m.text, d.state, d.fate FROM telling_delivery d JOIN telling_message m "
        "ON m.id = d.message_id",
    )
    assert len(fates) == PEOPLE
    said = sink.times_said([text for text, _, _ in fates])
    for text, state, fate in fates:
        if state == "sent":
            assert said[text] == 1, text
        else:
            assert (state, fate) == ("failed", "unknown"), text
            assert said[text] <= 1, text
    # Three processes work at a time; of the kills only those that came after the mark may cost a mail.
    assert rows(site, "fate = 'unknown'") < 3 * KILLS
    inbox = execute(database, "SELECT count(*) FROM telling_message")
    assert inbox == [(PEOPLE,)]
