"""The site's own tasks."""

from celery import shared_task
from django.utils import timezone

from rinklog.upkeep import services


@shared_task(name="upkeep.beat_heart")
def beat_heart() -> None:
    """Prove that beat, the queue and the worker all work: this row is the proof."""
    services.record_heartbeat(name=services.WORKER, now=timezone.now())
