"""Advice, off the road of whoever waits for a page."""

from uuid import UUID

from celery import shared_task
from django.utils import timezone

from rinklog.advice import queries, services
from rinklog.rink.models import Rink
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep.queue import soon


@shared_task(name="advice.advise", **AGAIN)
def advise(rink_id: str) -> None:
    """Make advice for one rink from what is stored now."""
    rink = Rink.objects.filter(id=UUID(rink_id)).first()
    if rink is not None:
        services.advise(rink=rink, now=timezone.now())


@shared_task(name="advice.sweep", **AGAIN)
def sweep() -> None:
    """Queue every rink whose advice was made from other inputs than there are now."""
    for rink in queries.stale(timezone.now()):
        soon(advise, str(rink.id))
