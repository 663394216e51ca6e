"""Reading the site's own state."""

import hashlib
from datetime import datetime, timedelta

from django.db.models import QuerySet

from rinklog.upkeep.models import Claim, Heartbeat, TaskRun

CLAIM_LIVES = timedelta(days=7)
HEART_STOPS_AFTER = timedelta(seconds=75)
STUCK_AFTER = timedelta(minutes=6)  # tasks are cut off after five minutes; what runs longer was killed


def hash_of(token: str) -> str:
    """The form in which a token is kept: a long random token needs no salt."""
    return hashlib.sha256(token.encode()).hexdigest()


def open_claim(*, token: str, now: datetime) -> Claim | None:
    """The unused claim that a token opens, or None."""
    return Claim.objects.filter(
        token_hash=hash_of(token), used_at=None, created_at__gt=now - CLAIM_LIVES
    ).first()


def is_beating(*, name: str, now: datetime) -> bool:
    """Whether a part of the site showed itself lately."""
    return Heartbeat.objects.filter(name=name, at__gt=now - HEART_STOPS_AFTER).exists()


def runs(now: datetime) -> QuerySet[TaskRun]:
    """The runs of tasks that are kept, the latest first."""
    return TaskRun.objects.filter(started_at__lte=now).order_by("-started_at", "-id")


def troubles(now: datetime) -> QuerySet[TaskRun]:
    """Runs that failed, or that a killed worker left, and that nothing has made good since."""
    stuck = runs(now).filter(state=TaskRun.State.RUNNING, started_at__lt=now - STUCK_AFTER)
    return (runs(now).filter(state=TaskRun.State.FAILED) | stuck).filter(made_good_at=None)


def run(id: int) -> TaskRun | None:
    """One run of a task."""
    return TaskRun.objects.filter(id=id).first()
