"""The estimate, off the road of whoever wrote the work down."""

import time
from uuid import UUID

from celery import shared_task
from django.utils import timezone

from rinklog.ice import queries, services
from rinklog.rink.models import Rink
from rinklog.upkeep import running
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep.queue import soon

PATIENCE_S = 200.0
"""A task may take 300 s; a longer replay goes on in the next one."""


@shared_task(name="ice.project", **AGAIN)
def project(rink_id: str) -> None:
    """Bring one rink's estimate up to now; a replay that takes too long goes on in another task."""
    rink = Rink.objects.filter(id=UUID(rink_id)).first()
    if rink is None:
        return
    began = time.monotonic()
    services.project(rink=rink, now=timezone.now(), patient=lambda: time.monotonic() - began < PATIENCE_S)
    row = queries.stored(rink)
    if row is not None and row.reached_at is not None:
        soon(project, rink_id)


@shared_task(name="ice.sweep", **AGAIN)
def sweep() -> None:
    """Queue every rink whose estimate was made from other inputs than there are now, unless that is being done."""
    now = timezone.now()
    for rink in queries.stale(now):
        if not running.is_running(project.name, [rink.id], now):
            soon(project, str(rink.id))
