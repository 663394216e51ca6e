"""Writing the site's own state. The first three are called by the console, before anybody can sign in."""

import secrets
from datetime import datetime

from django.db import transaction

from rinklog.upkeep.models import Claim, Heartbeat, TaskRun
from rinklog.upkeep.queries import CLAIM_LIVES, hash_of

WORKER = "worker"


@transaction.atomic
def make_claim_link(*, now: datetime) -> str:
    """Make the one token that claims the site, and return it; every earlier unused one stops working."""
    token = secrets.token_urlsafe(24)
    Claim.objects.filter(used_at=None).delete()
    Claim.objects.create(token_hash=hash_of(token), created_at=now)
    return token


@transaction.atomic
def use_claim(*, token: str, now: datetime) -> bool:
    """Use a claim up; False when it is unknown, used or too old. Of two at once, one gets True."""
    used = Claim.objects.filter(
        token_hash=hash_of(token), used_at=None, created_at__gt=now - CLAIM_LIVES
    ).update(used_at=now)
    return used == 1


def forget_heartbeats() -> None:
    """Forget what an earlier run showed, so that a start is not taken for healthy too soon."""
    Heartbeat.objects.all().delete()


def record_heartbeat(*, name: str, now: datetime) -> None:
    """Note that a part of the site works now."""
    Heartbeat.objects.update_or_create(name=name, defaults={"at": now})


def forget_runs(*, before: datetime) -> int:
    """Delete the runs of tasks that began before a moment; returns how many."""
    return TaskRun.objects.filter(started_at__lt=before).delete()[0]


def mark_run_again(*, run: TaskRun, now: datetime) -> bool:
    """Note that a failed run is queued again; True for the first who asks."""
    return TaskRun.objects.filter(id=run.id, made_good_at=None).update(made_good_at=now) == 1
