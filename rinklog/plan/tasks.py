"""What the plan does by the clock. Rows are the truth: every task may run twice, and a lost one costs minutes."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any
from uuid import UUID

from celery import Task, shared_task
from django.utils import timezone

from rinklog.plan.queries.sweep import every_rink, off_ice_is_due, rinks_with_plans
from rinklog.plan.services.on_ice import alarm
from rinklog.plan.services.sky import watch_sky
from rinklog.plan.services.sweep import sweep_rink
from rinklog.rink.models import Rink
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep.queue import soon

AT_ONCE = 20
"""Rinks that one message is about: few enough to end well before a task is cut off."""


@shared_task(name="plan.sweep", **AGAIN)
def sweep() -> None:
    """Find every rink that has something planned, and queue it."""
    in_parcels(sweep_rinks, rinks_with_plans(timezone.now()))


@shared_task(name="plan.sweep_rinks", **AGAIN)
def sweep_rinks(*rink_ids: str) -> None:
    """Bring the plan of some rinks up to date."""
    each(rink_ids, lambda rink: sweep_rink(rink=rink, now=timezone.now()))


@shared_task(name="plan.watch_ice", **AGAIN)
def watch_ice() -> None:
    """Look for people who are not off the ice in time."""
    for id in off_ice_is_due(timezone.now()):
        alarm(id=id, now=timezone.now())


@shared_task(name="plan.watch_skies", **AGAIN)
def watch_skies() -> None:
    """Find every rink whose sky may be watched, at all hours, and queue it."""
    in_parcels(watch_skies_of, every_rink())


@shared_task(name="plan.watch_skies_of", **AGAIN)
def watch_skies_of(*rink_ids: str) -> None:
    """Look at the sky over some rinks."""
    each(rink_ids, lambda rink: watch_sky(rink=rink, now=timezone.now()))


def in_parcels(task: "Task[Any, Any]", rink_ids: Sequence[str]) -> None:
    """Queue a task for many rinks, some at once."""
    for first in range(0, len(rink_ids), AT_ONCE):
        soon(task, *rink_ids[first : first + AT_ONCE])


def each(rink_ids: Iterable[str], deed: Callable[[Rink], object]) -> None:
    """Do something for each rink; one that fails does not keep the others from it, but fails the task."""
    faults: list[Exception] = []
    for rink in Rink.objects.filter(id__in=[UUID(id) for id in rink_ids]).order_by("slug"):
        try:
            deed(rink)
        except Exception as error:
            faults.append(error)
    if faults:
        raise faults[0]
