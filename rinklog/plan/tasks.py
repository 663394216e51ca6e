"""What the plan does by the clock. Rows are the truth: every task may run twice, and a lost one costs minutes."""

from typing import Any
from uuid import UUID

from celery import shared_task
from django.db import OperationalError
from django.utils import timezone

from rinklog.plan.queries.sweep import off_ice_is_due, rinks_with_plans
from rinklog.plan.services.on_ice import alarm
from rinklog.plan.services.sky import watch_sky
from rinklog.plan.services.sweep import sweep_rink
from rinklog.rink.models import Rink
from rinklog.upkeep.queue import soon

# A database that is busy is asked again three times within a minute; after that the next sweep does it.
AGAIN: dict[str, Any] = {
    "autoretry_for": (OperationalError,),
    "retry_backoff": 5,
    "retry_backoff_max": 30,
    "max_retries": 3,
}
AT_ONCE = 20
"""Rinks that one message is about: few enough to end well before a task is cut off."""


@shared_task(name="plan.sweep", **AGAIN)
def sweep() -> None:
    """Find every rink that has something planned, and queue it."""
    rinks = rinks_with_plans(timezone.now())
    for first in range(0, len(rinks), AT_ONCE):
        soon(sweep_rinks, *rinks[first : first + AT_ONCE])


@shared_task(name="plan.sweep_rinks", **AGAIN)
def sweep_rinks(*rink_ids: str) -> None:
    """Bring the plan of some rinks up to date; one that fails does not keep the others from it."""
    faults: list[Exception] = []
    for rink in Rink.objects.filter(id__in=[UUID(id) for id in rink_ids]).order_by("slug"):
        try:
            sweep_rink(rink=rink, now=timezone.now())
        except Exception as error:
            faults.append(error)
    if faults:
        raise faults[0]


@shared_task(name="plan.watch_ice", **AGAIN)
def watch_ice() -> None:
    """Look for people who are not off the ice in time."""
    for id in off_ice_is_due(timezone.now()):
        alarm(id=id, now=timezone.now())


@shared_task(name="plan.watch_skies")
def watch_skies() -> None:
    """Look at every rink's sky, at all hours; one that fails does not keep the others from it."""
    faults: list[Exception] = []
    for rink in Rink.objects.order_by("slug"):
        try:
            watch_sky(rink=rink, now=timezone.now())
        except Exception as error:
            faults.append(error)
    if faults:
        raise faults[0]
