"""Reading photos. Nothing here writes."""

import datetime as dt
from collections.abc import Iterable
from uuid import UUID

from django.db.models import Q, QuerySet

from rinklog.photos.models import Photo
from rinklog.rink.models import Rink

# Longer than a task may run: who claimed it this long ago is dead.
CLAIM_LAPSES = dt.timedelta(minutes=6)
QUEUE_LOSES = dt.timedelta(minutes=1)


def photo(rink: Rink, id: UUID) -> Photo | None:
    """One photo of a rink that was not taken back."""
    return Photo.objects.select_related("by").filter(rink=rink, id=id, taken_back_at=None).first()


def photos_of(rink: Rink, subject: str, ids: Iterable[UUID]) -> QuerySet[Photo]:
    """The photos of some subjects, in the order they arrived."""
    return (
        Photo.objects.filter(rink=rink, subject=subject, subject_id__in=list(ids), taken_back_at=None)
        .select_related("by")
        .order_by("recorded_at", "id")
    )


def overdue(now: dt.datetime) -> QuerySet[Photo]:
    """Photos that wait although nobody is at work on them: their message was lost, or their worker died."""
    lost = Q(claimed_at=None, recorded_at__lt=now - QUEUE_LOSES)
    return Photo.objects.filter(state=Photo.State.WAITING, taken_back_at=None).filter(
        lost | Q(claimed_at__lt=now - CLAIM_LAPSES)
    )


def left_behind() -> QuerySet[Photo]:
    """Photos whose file as it came is still there although it is not needed: it may hold the place it was taken."""
    done = Q(taken_back_at__isnull=False) | ~Q(state=Photo.State.WAITING)
    return Photo.objects.filter(done).exclude(arrived="")
