"""What a review reads of the log, once: a fixed number of queries, however much is written there."""

import datetime as dt
from dataclasses import dataclass
from functools import cached_property
from itertools import starmap
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Count, F, Min, Q, QuerySet, Sum

from rinklog.crew.models import Membership
from rinklog.reports.review.cuts import Seconds, as_text
from rinklog.reports.review.span import Span
from rinklog.work.models import Entry, EntryEvent, EntryPerson, EntryZone, Kind

STANDING = Entry.State.STANDING
WATER_KINDS = (Kind.FLOOD, Kind.PATCH)


@dataclass(frozen=True, slots=True)
class DaySum:
    """The work of one kind on one rink-local day."""

    day: dt.date
    kind: str
    entries: int
    water_m3: float
    seen_low_c: float | None


@dataclass(frozen=True, slots=True)
class WeekLabour:
    """The minutes of one person at one kind of work in one week."""

    person_id: UUID
    name: str
    kind: str
    monday: dt.date
    entries: int
    minutes: float


class WaterEntry(NamedTuple):
    """One entry that poured water or was a flood; moments in seconds since 1970, `details` as stored."""

    root: str
    kind: str
    started_s: float
    ended_s: float | None
    water_m3: float | None
    area_m2: float
    details: dict[str, Any]
    seen_air_c: float | None
    seen_wind_ms: float | None
    seen_sky: str

    @property
    def coat_m(self) -> float | None:
        """Water over area [m]."""
        return self.water_m3 / self.area_m2 if self.water_m3 and self.area_m2 else None

    @property
    def done_s(self) -> float:
        """When the work ended, else when it began [s]."""
        return self.started_s if self.ended_s is None else self.ended_s


class Removal(NamedTuple):
    """One snow removal: moments [s since 1970], area [m²], details as stored, minutes of all people."""

    started_s: float
    ended_s: float | None
    area_m2: float
    details: dict[str, Any]
    minutes: float | None


@dataclass(frozen=True, slots=True)
class ZoneSum:
    """What one kind of work came to on one zone."""

    zone_id: int
    kind: str
    entries: int
    water_m3: float


class Facts:
    """The log of one season, read lazily and once."""

    def __init__(self, span: Span) -> None:
        self.span = span

    @property
    def entries(self) -> QuerySet[Entry]:
        """The entries that count."""
        return Entry.objects.filter(season=self.span.season, state=STANDING)

    @cached_property
    def days(self) -> list[DaySum]:
        """Work by day and kind."""
        rows = (
            self.entries.annotate(day=self.span.day_of("started_at"))
            .values_list("day", "kind")
            .annotate(entries=Count("id"), water=Sum("water_m3"), seen=Min("seen_air_c"))
            .order_by("day", "kind")
        )
        return [DaySum(day, kind, entries, water or 0.0, seen) for day, kind, entries, water, seen in rows]

    @cached_property
    def labour(self) -> list[WeekLabour]:
        """Labour by person, kind and week."""
        rows = (
            EntryPerson.objects.filter(entry__season=self.span.season, entry__state=STANDING)
            .annotate(week=self.span.week_of("entry__started_at"))
            .values_list("person_id", "person__name", "entry__kind", "week")
            .annotate(entries=Count("id"), minutes=Sum("minutes"))
            .order_by("person__name", "person_id", "entry__kind", "week")
        )
        return [WeekLabour(*row) for row in rows]

    @cached_property
    def roles(self) -> dict[UUID, str]:
        """What each person is on this rink, left or not."""
        members = Membership.objects.filter(rink_id=self.span.season.rink_id)
        return dict(members.values_list("person_id", "role"))

    @cached_property
    def water(self) -> list[WaterEntry]:
        """Floods and everything else that poured water, in order of time."""
        rows = (
            self.entries.filter(kind__in=WATER_KINDS)
            .filter(Q(kind=Kind.FLOOD) | Q(water_m3__gt=0))
            .annotate(root_text=as_text("root_id"), began=Seconds("started_at"), ended=Seconds("ended_at"))
            .order_by("started_at", "id")
        )
        names = ("water_m3", "area_m2", "details", "seen_air_c", "seen_wind_ms", "seen_sky")
        return list(starmap(WaterEntry, rows.values_list("root_text", "kind", "began", "ended", *names)))

    @cached_property
    def floods(self) -> list[WaterEntry]:
        """The floods, in order of time."""
        return [one for one in self.water if one.kind == Kind.FLOOD]

    @cached_property
    def frozen_s(self) -> dict[str, float]:
        """When each entry was called frozen through [s], by its root."""
        rows = EntryEvent.objects.filter(
            root__season=self.span.season, undone_at=None, what="frozen"
        ).annotate(root_text=as_text("root_id"), seconds=Seconds("at"))
        return dict(rows.order_by().values_list("root_text", "seconds"))

    @cached_property
    def zones(self) -> list[ZoneSum]:
        """Work by zone and kind; the water of an entry lies evenly over its zones."""
        share = F("entry__water_m3") * F("area_m2") / F("entry__area_m2")
        rows = (
            EntryZone.objects.filter(
                entry__season=self.span.season, entry__state=STANDING, zone__grid_id=self.span.season.grid_id
            )
            .values_list("zone_id", "entry__kind")
            .annotate(entries=Count("id"), water=Sum(share, filter=Q(entry__area_m2__gt=0)))
            .order_by()
        )
        return [ZoneSum(zone, kind, entries, water or 0.0) for zone, kind, entries, water in rows]

    @cached_property
    def seen(self) -> list[tuple[int, float, str]]:
        """What inspections said of zones: (zone, when [s], condition)."""
        rows = EntryZone.objects.filter(
            entry__season=self.span.season, entry__state=STANDING, entry__kind=Kind.INSPECTION
        ).annotate(began=Seconds("entry__started_at"))
        return list(rows.order_by().values_list("zone_id", "began", "condition"))

    @cached_property
    def flooded(self) -> list[tuple[str, int]]:
        """The zones of each flood, by its root."""
        rows = EntryZone.objects.filter(
            entry__season=self.span.season, entry__state=STANDING, entry__kind=Kind.FLOOD
        ).annotate(root_text=as_text("entry__root_id"))
        return list(rows.order_by().values_list("root_text", "zone_id"))

    @cached_property
    def snow(self) -> list[Removal]:
        """Snow removals, in order of time."""
        rows = (
            self.entries.filter(kind=Kind.SNOW_REMOVAL)
            .annotate(began=Seconds("started_at"), ended=Seconds("ended_at"), minutes=Sum("people__minutes"))
            .order_by("started_at", "id")
        )
        return list(starmap(Removal, rows.values_list("began", "ended", "area_m2", "details", "minutes")))
