"""Reading shifts and who is on them. Nothing here writes."""

import datetime as dt
from uuid import UUID

from django.db.models import Prefetch, QuerySet

from rinklog.crew.models import Person
from rinklog.plan.models import Shift, ShiftEvent, ShiftPlace
from rinklog.plan.rules.may_take import Wants
from rinklog.rink.models import Rink


def with_people(shifts: QuerySet[Shift]) -> QuerySet[Shift]:
    """Shifts with the places that stand, as `standing_places`, in one more query."""
    standing = ShiftPlace.objects.filter(left_at=None).select_related("person", "offered_to")
    return shifts.select_related("rink", "team").prefetch_related(
        Prefetch("places", standing, to_attr="standing_places")
    )


def shift(rink: Rink, id: UUID) -> Shift | None:
    """One shift of a rink with its people."""
    return with_people(Shift.objects.filter(rink=rink, id=id)).first()


def between(rink: Rink, start: dt.datetime, end: dt.datetime) -> QuerySet[Shift]:
    """The shifts that begin in a span, called off or not, with their people."""
    return with_people(Shift.objects.filter(rink=rink, starts_at__gte=start, starts_at__lt=end))


def ahead(rink: Rink, now: dt.datetime) -> QuerySet[Shift]:
    """The shifts that are not over and not called off."""
    return with_people(Shift.objects.filter(rink=rink, ends_at__gt=now, called_off_at=None))


def place(rink: Rink, id: UUID) -> ShiftPlace | None:
    """A place on a shift of a rink, standing or left."""
    return (
        ShiftPlace.objects.select_related("shift__rink", "person", "offered_to")
        .filter(shift__rink=rink, id=id)
        .first()
    )


def people_on(shift: Shift) -> list[Person]:
    """Everybody who is on a shift now."""
    return list(Person.objects.filter(shift_places__shift=shift, shift_places__left_at=None).order_by("name"))


def places_ahead(person: Person, now: dt.datetime, rink: Rink | None = None) -> QuerySet[ShiftPlace]:
    """A person's places on shifts that are not over and not called off."""
    rows = ShiftPlace.objects.filter(
        person=person, left_at=None, shift__ends_at__gt=now, shift__called_off_at=None
    )
    rows = rows.select_related("shift__rink", "person", "offered_to").order_by("shift__starts_at")
    return rows.filter(shift__rink=rink) if rink else rows


def offers_to(person: Person, rink: Rink, now: dt.datetime) -> QuerySet[ShiftPlace]:
    """Places that others ask this person to take over."""
    return ShiftPlace.objects.filter(
        offered_to=person, left_at=None, shift__rink=rink, shift__starts_at__gt=now, shift__called_off_at=None
    ).select_related("shift__rink", "person")


def clash(person_id: UUID, shift: Shift) -> Shift | None:
    """Another shift, of whatever rink, that the person is on at the same time."""
    return (
        Shift.objects.filter(
            places__person_id=person_id,
            places__left_at=None,
            called_off_at=None,
            starts_at__lt=shift.ends_at,
            ends_at__gt=shift.starts_at,
        )
        .exclude(id=shift.id)
        .select_related("rink")
        .first()
    )


def wants_of(shift: Shift) -> Wants:
    """What a shift asks of people."""
    return Wants(shift.people_needed, frozenset(shift.skills), frozenset(shift.everybody))


def events(shift: Shift) -> QuerySet[ShiftEvent]:
    """What happened to a shift, in order."""
    return shift.events.select_related("by")


def latest(rink: Rink, roster: str = Shift.Roster.ICE) -> Shift | None:
    """The shift of a roster that was made last, for smart defaults."""
    return Shift.objects.filter(rink=rink, roster=roster, team=None).order_by("-made_at").first()
