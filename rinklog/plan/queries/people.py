"""What people hold, how much they did, and who can be asked. Nothing here writes."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from django.db.models import Count, DurationField, ExpressionWrapper, F, Max, Q, QuerySet, Sum

from rinklog.crew.models import Membership, Person
from rinklog.plan.models import Availability, Holiday, Permission, Shift, ShiftPlace, Team
from rinklog.rink.models import Rink, Season

NOTHING: frozenset[str] = frozenset()


def permissions(rink: Rink) -> QuerySet[Permission]:
    """Every permission of the rink that was not withdrawn, expired or not."""
    return Permission.objects.filter(rink=rink, withdrawn_at=None)


def permission(rink: Rink, id: UUID) -> Permission | None:
    """One permission of a rink."""
    return permissions(rink).select_related("person").filter(id=id).first()


def held_on(rink: Rink, day: dt.date, people: Iterable[UUID] | None = None) -> dict[UUID, frozenset[str]]:
    """What people hold on a day of the rink's calendar, by person."""
    rows = permissions(rink).filter(Q(until__isnull=True) | Q(until__gte=day), since__lte=day)
    if people is not None:
        rows = rows.filter(person__in=list(people))
    found: dict[UUID, set[str]] = defaultdict(set)
    for person_id, what in rows.values_list("person_id", "what"):
        found[person_id].add(what)
    return {person_id: frozenset(held) for person_id, held in found.items()}


def coordinators(rink: Rink) -> list[Person]:
    """Who runs the crew: coordinators and keepers."""
    running = [Membership.Role.COORDINATOR, Membership.Role.KEEPER]
    return list(
        Person.objects.filter(
            memberships__rink=rink, memberships__left_at=None, memberships__role__in=running
        ).order_by("name")
    )


@dataclass(frozen=True)
class Share:
    """How much somebody was and will be on shifts this season, and when last."""

    hours: float = 0.0
    shifts: int = 0
    last: dt.datetime | None = None


def shares(rink: Rink, season: Season, now: dt.datetime) -> dict[UUID, Share]:
    """Hours on shifts since the season began, until now, and the start of the last one; by person, in one query."""
    length = ExpressionWrapper(F("shift__ends_at") - F("shift__starts_at"), output_field=DurationField())
    rows = (
        ShiftPlace.objects.filter(
            shift__rink=rink,
            shift__called_off_at=None,
            left_at=None,
            shift__night__gte=season.starts_on,
            shift__starts_at__lt=now,
        )
        .values("person_id")
        .annotate(time=Sum(length), last=Max("shift__starts_at"), count=Sum(1))
    )
    return {
        row["person_id"]: Share(row["time"].total_seconds() / 3600, row["count"], row["last"]) for row in rows
    }


def lines(rink: Rink, person: Person) -> QuerySet[Availability]:
    """When somebody said they can come."""
    return Availability.objects.filter(rink=rink, person=person).order_by("weekday", "starts_at")


def line(rink: Rink, person: Person, id: UUID) -> Availability | None:
    """One line of somebody's."""
    return lines(rink, person).filter(id=id).first()


def teams(rink: Rink) -> QuerySet[Team]:
    """The weekday teams that go on."""
    return (
        Team.objects.filter(rink=rink, ended_at=None)
        .select_related("leader", "rink")
        .prefetch_related("people")
    )


def team(rink: Rink, id: UUID) -> Team | None:
    """One team of a rink."""
    return teams(rink).filter(id=id).first()


def holidays(rink: Rink) -> QuerySet[Holiday]:
    """The days on which the hut must not be forgotten."""
    return Holiday.objects.filter(rink=rink)


def uncovered_holidays(rink: Rink, today: dt.date, days: int = 60) -> list[Holiday]:
    """Holidays ahead on which no hut, keys or lights are planned, or people are still missing."""
    ahead = holidays(rink).filter(day__gte=today, day__lte=today + dt.timedelta(days=days))
    standing = Count("places", filter=Q(places__left_at=None))
    covered = (
        Shift.objects.filter(rink=rink, roster=Shift.Roster.HOUSE, called_off_at=None, night__gte=today)
        .annotate(there=standing)
        .values_list("night", "there", "people_needed")
    )
    full = {night for night, there, needed in covered if there >= needed}
    short = {night for night, there, needed in covered if there < needed}
    return [one for one in ahead if one.day not in full or one.day in short]
