"""Drill holes by day against this rink's rule for machines. It says what the rule says; a person decides."""

import datetime as dt
from dataclasses import dataclass
from uuid import UUID
from zoneinfo import ZoneInfo

from rinklog.clock import days_bounds, local_day
from rinklog.rink.machine_rule import MachineRule
from rinklog.rink.models import Rink
from rinklog.rink.queries import machine_rule
from rinklog.work.models import Entry, Kind
from rinklog.work.queries import standing

# White ice is about half as strong as clear ice (Minnesota DNR): half of it is counted.
WHITE_COUNTS_FRAC = 0.5


@dataclass(frozen=True)
class Hole:
    """One drill hole; thicknesses and water below in metres."""

    root_id: UUID
    at: dt.datetime
    zone: str
    by: str
    clear_m: float
    white_m: float
    water_below_m: float | None

    @property
    def counted_m(self) -> float:
        """Clear ice and half of the white ice [m]."""
        return self.clear_m + WHITE_COUNTS_FRAC * self.white_m


@dataclass(frozen=True)
class DayOfHoles:
    """The holes of one rink-local day, and what the rule says of them."""

    day: dt.date
    holes: list[Hole]
    rule: MachineRule

    @property
    def thinnest_m(self) -> float:
        """The least counted thickness [m]."""
        return min(hole.counted_m for hole in self.holes)

    @property
    def met(self) -> bool:
        """Whether the day's holes meet the rule."""
        return self.rule.met_by([hole.counted_m for hole in self.holes])

    @property
    def missing(self) -> int:
        """How many holes are missing for the rule."""
        return max(0, self.rule.holes - len(self.holes))


def days_of_holes(rink: Rink, first: dt.date, last: dt.date, zone: ZoneInfo) -> list[DayOfHoles]:
    """The days from first to last on which holes were drilled, the latest first."""
    start, end = days_bounds(first, last, zone)
    entries = standing(rink).filter(kind=Kind.DRILL_HOLE, started_at__gte=start, started_at__lt=end)
    return by_day([hole_of(entry) for entry in entries], machine_rule(rink), zone)


def by_day(holes: list[Hole], rule: MachineRule, zone: ZoneInfo) -> list[DayOfHoles]:
    """Group holes by rink-local day, keeping their order."""
    days: dict[dt.date, list[Hole]] = {}
    for hole in holes:
        days.setdefault(local_day(hole.at, zone), []).append(hole)
    return [DayOfHoles(day, found, rule) for day, found in days.items()]


def hole_of(entry: Entry) -> Hole:
    """The hole that an entry of that kind tells of."""
    details = entry.details
    return Hole(
        root_id=entry.root_id,
        at=entry.started_at,
        zone=" ".join(row.zone.label for row in entry.zones.all()),
        by=entry.by.name,
        clear_m=details.get("clear_ice_m") or 0.0,
        white_m=details.get("white_ice_m") or 0.0,
        water_below_m=details.get("water_below_m"),
    )
