"""Reading imports. Nothing here writes."""

import datetime as dt
from uuid import UUID

from django.db.models import QuerySet

from rinklog.archive.models import Import
from rinklog.rink.models import Rink

STANDS_STILL = dt.timedelta(minutes=6)  # longer than a task may take
KEPT = dt.timedelta(days=7)
BUSY = (Import.State.CHECKING, Import.State.IMPORTING)


def imports(rink: Rink) -> QuerySet[Import]:
    """The imports of a rink, the latest first."""
    return Import.objects.filter(rink=rink).select_related("by")


def one_import(rink: Rink, id: UUID) -> Import | None:
    """One import of a rink."""
    return imports(rink).filter(id=id).first()


def standing_still(now: dt.datetime) -> QuerySet[Import]:
    """Imports that a task should be at and none is."""
    return Import.objects.filter(state__in=BUSY, moved_at__lt=now - STANDS_STILL)


def to_forget(now: dt.datetime) -> QuerySet[Import]:
    """Imports whose file is no longer needed."""
    return Import.objects.filter(made_at__lt=now - KEPT).exclude(file="").exclude(state__in=BUSY)
