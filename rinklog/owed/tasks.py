"""Reminders by the clock. May run as often as it likes: what was told is never told again."""

from celery import shared_task
from django.utils import timezone

from rinklog.owed.telling import remind
from rinklog.upkeep.again import AGAIN


@shared_task(name="owed.remind", **AGAIN)
def remind_of_dates() -> None:
    """Remind people of dates that come near."""
    remind(now=timezone.now())
