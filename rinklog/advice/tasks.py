"""Advice, off the road of whoever waits for a page."""

import datetime as dt
from uuid import UUID

from celery import shared_task
from django.utils import timezone

from rinklog.advice import queries, services
from rinklog.ice.queries import stored
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

    One whose ice is being worked out waits for that: what would be said before is said again a minute later.
    """
    now = timezone.now()
    for rink in queries.stale(now):
        busy = any(running.is_running(task.name, [rink.id], now) for task in (project, advise))
        if not busy and not is_first_replay(rink, now):
            soon(advise, str(rink.id))


def is_first_replay(rink: Rink, now: dt.datetime) -> bool:
    """Whether a season is being worked through for the first time, in several tasks one after another."""
    row = stored(rink)
    return row is not None and row.reached_at is not None and now - row.made_at < FIRST_REPLAY
