"""Advice, off the road of whoever waits for a page."""

from uuid import UUID

from celery import shared_task
from django.utils import timezone

from rinklog.advice import queries, services
from rinklog.ice.tasks import project
from rinklog.rink.models import Rink
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep import running
from rinklog.upkeep.queue import soon


@shared_task(name="advice.advise", **AGAIN)
def advise(rink_id: str) -> None:
    """Make advice for one rink from what is stored now."""
    rink = Rink.objects.filter(id=UUID(rink_id)).first()
    if rink is not None:
        services.advise(rink=rink, now=timezone.now())


@shared_task(name="advice.sweep", **AGAIN)
def sweep() -> None:
    """Queue every rink whose advice was made from other inputs than there are now.

    One whose ice is being worked out waits for that: new advice follows it (`FOLLOWS` of celery.py), and what would be
    said before is said again a minute later.
    """
    now = timezone.now()
    for rink in queries.stale(now):
        if not any(running.is_running(task.name, [rink.id], now) for task in (project, advise)):
            soon(advise, str(rink.id))
