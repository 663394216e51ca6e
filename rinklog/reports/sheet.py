"""The log sheet: what a city or an insurer wants on paper, day by day."""

import datetime as dt
from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any, TypeVar
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Count, Q, Sum

from rinklog.clock import days_bounds, local_day
from rinklog.records import queries as records
from rinklog.records.models import Check, ChecklistItem, Opening
from rinklog.records.queries import HourCount
from rinklog.reports.thickness import Hole, hole_of
from rinklog.rink.models import Rink
from rinklog.work.models import Entry, Kind
from rinklog.work.queries import standing


@dataclass
class Total:
    """What a season has come to: floods, and all water [m³]."""

    floods: int = 0
    water_m3: float = 0.0


@dataclass(frozen=True)
class WorkLine:
    """One entry, and what its season had come to after it."""

    entry: Entry
    floods: int
    total_water_m3: float

    @property
    def coat_m(self) -> float | None:
        """Water over area of a flood [m]."""
        if self.entry.kind != Kind.FLOOD or not self.entry.water_m3 or not self.entry.area_m2:
            return None
        return self.entry.water_m3 / self.entry.area_m2

    @property
    def labour_min(self) -> float:
        """Minutes of all people [min]."""
        return sum(row.minutes for row in self.entry.people.all())


@dataclass
class SheetDay:
    """Everything on record for one rink-local day, each list in the order of its hours."""

    day: dt.date
    work: list[WorkLine] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)
    hours: list[HourCount] = field(default_factory=list)
    walks: list[Check] = field(default_factory=list)

    def of(self, kind: str) -> list[WorkLine]:
        """The day's work of one kind."""
        return [line for line in self.work if line.entry.kind == kind]

    @property
    def floods(self) -> list[WorkLine]:
        """The day's floods."""
        return self.of(Kind.FLOOD)

    @property
    def snow(self) -> list[WorkLine]:
        """The day's snow removals."""
        return self.of(Kind.SNOW_REMOVAL)

    @property
    def others(self) -> list[WorkLine]:
        """The day's other work, drill holes left out."""
        shown = (Kind.FLOOD, Kind.SNOW_REMOVAL, Kind.DRILL_HOLE)
        return [line for line in self.work if line.entry.kind not in shown]

    @property
    def holes(self) -> list[Hole]:
        """The day's drill holes."""
        return [hole_of(line.entry) for line in self.of(Kind.DRILL_HOLE)]

    @property
    def hole_count(self) -> int:
        """How many holes were drilled."""
        return len(self.holes)

    @property
    def thinnest_m(self) -> float | None:
        """The least counted thickness of the day's holes [m]."""
        return min((hole.counted_m for hole in self.holes), default=None)

    @property
    def water_m3(self) -> float:
        """The day's water [m³]."""
        return sum(line.entry.water_m3 or 0.0 for line in self.work)

    @property
    def labour_min(self) -> float:
        """The day's labour [min]."""
        return sum(line.labour_min for line in self.work)

    @property
    def skaters(self) -> int:
        """All hours added up."""
        return sum(hour.skaters for hour in self.hours)

    @property
    def last(self) -> WorkLine | None:
        """The day's last work, whose running totals are the day's."""
        return self.work[-1] if self.work else None


def sheet(rink: Rink, first: dt.date, last: dt.date, zone: ZoneInfo) -> list[SheetDay]:
    """Every day from first to last with what is on record for it, in a fixed number of queries."""
    start, end = days_bounds(first, last, zone)
    entries = list(standing(rink).filter(started_at__gte=start, started_at__lt=end))[::-1]
    openings = records.standing(Opening, rink).filter(at__gte=start, at__lt=end)
    walks = records.checks(rink, (ChecklistItem.List.WALK,)).filter(at__gte=start, at__lt=end)
    lines = _by_day(_with_totals(rink, entries, start), lambda line: line.entry.started_at, zone)
    opened = _by_day(list(openings)[::-1], lambda one: one.at, zone)
    walked = _by_day(list(walks)[::-1], lambda one: one.at, zone)
    counted = _by_day(records.hours(rink, start, end), lambda hour: hour.at, zone)
    days = [first + dt.timedelta(days=n) for n in range((last - first).days + 1)]
    return [SheetDay(day, lines[day], opened[day], counted[day], walked[day]) for day in days]


def _with_totals(rink: Rink, entries: list[Entry], start: dt.datetime) -> list[WorkLine]:
    """Each entry with its season's running totals, which go on from those before `start`."""
    running = _totals_before(rink, {entry.season_id for entry in entries}, start)
    lines = []
    for entry in entries:
        total = running[entry.season_id]
        total.floods += entry.kind == Kind.FLOOD
        total.water_m3 += entry.water_m3 or 0.0
        lines.append(WorkLine(entry, total.floods, total.water_m3))
    return lines


def _totals_before(rink: Rink, seasons: set[UUID], start: dt.datetime) -> dict[Any, Total]:
    rows = (
        Entry.objects.filter(
            rink=rink, season_id__in=seasons, state=Entry.State.STANDING, started_at__lt=start
        )
        .values("season_id")
        .annotate(floods=Count("id", filter=Q(kind=Kind.FLOOD)), water=Sum("water_m3"))
    )
    found: dict[Any, Total] = defaultdict(Total)
    found.update({row["season_id"]: Total(row["floods"], row["water"] or 0.0) for row in rows})
    return found


T = TypeVar("T")


def _by_day(
    things: Iterable[T], moment: Callable[[T], dt.datetime], zone: ZoneInfo
) -> dict[dt.date, list[T]]:
    days: dict[dt.date, list[T]] = defaultdict(list)
    for thing in things:
        days[local_day(moment(thing), zone)].append(thing)
    return days
