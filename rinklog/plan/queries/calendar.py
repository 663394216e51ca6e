"""The shifts that a calendar shows: those of one person, left ones too, or all of a rink."""

import datetime as dt
from collections.abc import Sequence

from django.db.models import Prefetch

from rinklog.crew.models import Person
from rinklog.plan.models import Shift, ShiftEvent, ShiftPlace
from rinklog.rink.models import Rink

KEPT = dt.timedelta(days=60)
"""A calendar goes on showing a shift for so long after it."""


def shifts_shown(rink: Rink, person: Person | None, now: dt.datetime) -> Sequence[Shift]:
    """Shifts of the last weeks and all ahead, with every place and event; a person's only those they were ever on.

    Three queries.
    """
    rows = Shift.objects.filter(rink=rink, starts_at__gt=now - KEPT)
    if person is not None:
        theirs = ShiftPlace.objects.filter(person=person, shift__rink=rink)
        rows = rows.filter(id__in=theirs.values("shift"))
    places = ShiftPlace.objects.select_related("person").order_by("number", "taken_at")
    return list(
        rows.select_related("rink").prefetch_related(
            Prefetch("places", places, to_attr="every_place"),
            Prefetch("events", ShiftEvent.objects.only("shift_id", "at"), to_attr="every_event"),
        )
    )
