"""Reviews are built here, off the road of whoever asked for one."""

from celery import shared_task
from django.utils import timezone

from rinklog.reports import queries, services
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep.queue import soon


@shared_task(name="reports.build_review", **AGAIN)
def build_review(id: str) -> None:
    """Build one season's review."""
    services.build_review(id=int(id), now=timezone.now())


@shared_task(name="reports.sweep_reviews", **AGAIN)
def sweep_reviews() -> None:
    """Queue again what was asked for and stands still."""
    for built in queries.standing_still(timezone.now()):
        soon(build_review, built.id)


def build_soon(id: int) -> None:
    """Queue the building of a review."""
    soon(build_review, id)
