"""The site's own tasks."""

from celery import shared_task
from django.utils import timezone

from rinklog.upkeep import running, services
from rinklog.upkeep.again import AGAIN


@shared_task(name="upkeep.beat_heart", **AGAIN)
def beat_heart() -> None:
    """Prove that beat, the queue and the worker all work: this row is the proof."""
    services.record_heartbeat(name=services.WORKER, now=timezone.now())


@shared_task(name="upkeep.forget_runs", **AGAIN)
def forget_runs() -> None:
    """Delete what is too old to matter."""
    services.forget_runs(before=timezone.now() - running.KEPT_FOR)
