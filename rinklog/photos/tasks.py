"""Preparing photos, off the road of whoever posted them."""

from uuid import UUID

from celery import shared_task
from django.utils import timezone

from rinklog.photos import queries, services
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep.queue import soon

SWEPT_AT_ONCE = 200


@shared_task(name="photos.prepare_photo", **AGAIN)
def prepare_photo(photo_id: str) -> None:
    """Make both sizes of one photo."""
    services.prepare(id=UUID(photo_id), now=timezone.now())


@shared_task(name="photos.sweep_waiting", **AGAIN)
def sweep_waiting() -> None:
    """Queue again what waits too long, and delete files as they came that a crash left behind."""
    for photo in queries.overdue(timezone.now()).order_by("recorded_at")[:SWEPT_AT_ONCE]:
        prepare_soon(photo.id)
    for photo in queries.left_behind()[:SWEPT_AT_ONCE]:
        services.forget_arrived(photo=photo)


def prepare_soon(photo_id: UUID) -> None:
    """Queue the preparing of a photo, once its row is committed."""
    soon(prepare_photo, photo_id)
