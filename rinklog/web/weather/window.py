"""Which days the weather page shows: whole days of the rink's own calendar, around today or around a day asked for."""

import datetime as dt
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog.clock import day_bounds, days_bounds

DAY = dt.timedelta(days=1)
# Days before and after: the usual look, a long one, and the one around a day of the past.
SPANS = {"usual": (2, 3), "long": (4, 9)}
AROUND = (1, 1)


@dataclass(frozen=True)
class Shown:
    """The days that are shown."""

    first: dt.date
    last: dt.date
    span: str  # a key of SPANS, or "day" for the days around one
    start: dt.datetime
    end: dt.datetime
    zone: ZoneInfo

    @property
    def days(self) -> list[tuple[dt.date, dt.datetime, dt.datetime]]:
        """Each day with its start and end; one with a clock change is an hour shorter or longer."""
        count = (self.last - self.first).days + 1
        return [(day := self.first + n * DAY, *day_bounds(day, self.zone)) for n in range(count)]


def shown_days(asked: str, span: str, today: dt.date, zone: ZoneInfo) -> Shown:
    """The days to show. What cannot be read is as if nothing was asked for."""
    try:
        day, (back, ahead), span = dt.date.fromisoformat(asked), AROUND, "day"
        first, last = day - back * DAY, day + ahead * DAY
        start, end = days_bounds(first, last, zone)
    except (ValueError, OverflowError):
        span = span if span in SPANS else "usual"
        first, last = today - SPANS[span][0] * DAY, today + SPANS[span][1] * DAY
        start, end = days_bounds(first, last, zone)
    return Shown(first, last, span, start, end, zone)
