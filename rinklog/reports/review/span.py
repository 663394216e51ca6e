"""A season as a review sees it: from its first day to its last, or to today while it runs."""

import datetime as dt
from dataclasses import dataclass, field
from functools import cached_property
from zoneinfo import ZoneInfo

from django.db.models import Case, DateField, F, When
from django.db.models.expressions import Combinable, Expression

from rinklog.clock import day_bounds, days_bounds, local_day
from rinklog.geometry.grid import Grid as Plan
from rinklog.reports.review.cuts import LocalDay, LocalMonday
from rinklog.rink.models import Season

MARGIN = dt.timedelta(days=400)  # entries may lie a little outside their season


@dataclass(frozen=True)
class Span:
    """One season up to `now`, on the rink's clock."""

    season: Season
    zone: ZoneInfo
    now: dt.datetime
    last: dt.date = field(init=False)

    def __post_init__(self) -> None:
        today = local_day(self.now, self.zone)
        last = min(self.season.ends_on or today, today)
        object.__setattr__(self, "last", max(last, self.season.starts_on))

    @property
    def first(self) -> dt.date:
        """The season's first day."""
        return self.season.starts_on

    @cached_property
    def bounds(self) -> tuple[dt.datetime, dt.datetime]:
        """Start and end, end not included and not after now."""
        start, end = days_bounds(self.first, self.last, self.zone)
        return start, max(start, min(end, self.now))

    @cached_property
    def whole_days(self) -> tuple[dt.datetime, dt.datetime]:
        """Start and end without today, whose weather is not known to its end; empty on the season's first day."""
        start, end = self.bounds
        today, _end = day_bounds(local_day(self.now, self.zone), self.zone)
        return start, max(start, min(end, today))

    @cached_property
    def days(self) -> list[dt.date]:
        """Every day."""
        return [self.first + dt.timedelta(days=n) for n in range((self.last - self.first).days + 1)]

    @cached_property
    def area_m2(self) -> float:
        """Area of the rink on this season's grid [m²]."""
        grid = self.season.grid
        return Plan(grid.length_m, grid.width_m, grid.corner_m).area_m2

    def day_of(self, moment: str) -> Expression | Combinable:
        """The rink-local day of a column, cut by the database itself: a season has two or three offsets."""
        return self._shifted(moment, LocalDay)

    def week_of(self, moment: str) -> Expression | Combinable:
        """The Monday of the rink-local week of a column."""
        return self._shifted(moment, LocalMonday)

    def _shifted(self, moment: str, cut: type[LocalDay]) -> Expression | Combinable:
        until = [
            When(**{f"{moment}__lt": change}, then=cut(F(moment), offset))
            for change, offset in self._offsets[:-1]
        ]
        last = cut(F(moment), self._offsets[-1][1])
        return Case(*until, default=last, output_field=DateField()) if until else last

    @cached_property
    def _offsets(self) -> list[tuple[dt.datetime, int]]:
        """(end of the stretch, offset [min]) from long before the season to after it; the last has no end."""
        start, end = self.bounds[0] - MARGIN, self.bounds[1] + MARGIN
        found: list[tuple[dt.datetime, int]] = []
        at, offset = start, _offset(start, self.zone)
        while at < end:
            after = at + dt.timedelta(days=1)
            if _offset(after, self.zone) != offset:
                found.append((_change(at, after, self.zone), offset))
                offset = _offset(after, self.zone)
            at = after
        return [*found, (end, offset)]


def _offset(at: dt.datetime, zone: ZoneInfo) -> int:
    shift = at.astimezone(zone).utcoffset() or dt.timedelta(0)
    return round(shift.total_seconds() / 60)


def _change(low: dt.datetime, high: dt.datetime, zone: ZoneInfo) -> dt.datetime:
    """The moment between two at which the offset changes."""
    before = _offset(low, zone)
    while high - low > dt.timedelta(seconds=1):
        middle = low + (high - low) / 2
        low, high = (middle, high) if _offset(middle, zone) == before else (low, middle)
    return (high + dt.timedelta(microseconds=500_000)).replace(microsecond=0)
