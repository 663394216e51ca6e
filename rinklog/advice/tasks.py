"""Advice, off the road of whoever waits for a page."""

import datetime as dt
from uuid import UUID

from celery import shared_task
from django.utils import timezone

from rinklog.advice import queries, services
from rinklog.ice import queries as ice
from rinklog.ice.tasks import project
from rinklog.rink.models import Rink
from rinklog.upkeep import running
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep.queue import soon

FIRST_REPLAY = dt.timedelta(minutes=15)
"""How long the first advice waits for the first estimate: a season takes a minute or two, more on a busy machine."""


@shared_task(name="advice.advise", **AGAIN)
def advise(rink_id: str) -> None:
    """Make advice for one rink from what is stored now."""
    rink = Rink.objects.filter(id=UUID(rink_id)).first()
    if rink is not None:
        services.advise(rink=rink, now=timezone.now())


@shared_task(name="advice.sweep", **AGAIN)
def sweep() -> None:
    """Queue every rink whose advice was made from other inputs than there are now.

    One whose ice is about to be worked out, or being so, waits for that: the sweep that follows it finds it again.
    """
    now = timezone.now()
    stale = {rink.id for rink in ice.stale(now)}
    for rink in queries.stale(now):
        waits = rink.id in stale and will_have_ice(rink, now)
        if not waits and not running.is_running(advise.name, [rink.id], now):
            soon(advise, str(rink.id))


def ask_afresh(rink: Rink, now: dt.datetime) -> None:
    """Queue fresh advice for a rink, due or not; when its ice is to be worked out, that first, and advice follows it.

    Otherwise a drill hole told a minute ago would count before the ice has judged it.
    """
    waits = ice.is_stale(rink, now) and will_have_ice(rink, now)
    if not (waits and running.is_running(project.name, [rink.id], now)):
        soon(project if waits else advise, str(rink.id))


def will_have_ice(rink: Rink, now: dt.datetime) -> bool:
    """Whether it is worth waiting for the ice: working it out did not break, and does not take too long."""
    row = ice.stored(rink)
    is_long = row is not None and row.reached_at is not None and now - row.made_at >= FIRST_REPLAY
    return not is_long and not running.broke(project.name, [rink.id], now)
