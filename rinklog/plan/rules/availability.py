"""When a person can come: pure reading of what they said, each line in the time zone they said it in.

Somebody without weekly lines can come whenever they are not away. A weekly line without times means that night,
noon to noon; with times it may reach past midnight.
"""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog import clock

NOON = dt.time(12)
DAY = dt.timedelta(days=1)


@dataclass(frozen=True)
class Line:
    """One thing a person said: "can", "away", "likes" or "rather-not", weekly or once."""

    sort: str
    zone: str = "UTC"
    weekday: int | None = None  # 0 is Monday
    from_time: dt.time | None = None
    to_time: dt.time | None = None
    starts_at: dt.datetime | None = None
    ends_at: dt.datetime | None = None


def can_come(lines: Iterable[Line], start: dt.datetime, end: dt.datetime) -> bool:
    """Whether a person can be there from start to end [aware]: not away, and inside a weekly line if they have any."""
    said = list(lines)
    if any(meets(line, start, end) for line in said if line.sort == "away"):
        return False
    weekly = [line for line in said if line.sort == "can"]
    return not weekly or any(holds(line, start, end) for line in weekly)


def wish(lines: Iterable[Line], start: dt.datetime, end: dt.datetime) -> int:
    """1 for a time they like, -1 for one they would rather not, else 0 (also when they said both)."""
    said = list(lines)
    likes = any(meets(line, start, end) for line in said if line.sort == "likes")
    rather_not = any(meets(line, start, end) for line in said if line.sort == "rather-not")
    return int(likes) - int(rather_not)


def meets(line: Line, start: dt.datetime, end: dt.datetime) -> bool:
    """Whether a line has any moment in common with [start, end)."""
    return any(begins < end and start < ends for begins, ends in spans(line, start, end))


def holds(line: Line, start: dt.datetime, end: dt.datetime) -> bool:
    """Whether a line covers all of [start, end)."""
    return any(begins <= start and end <= ends for begins, ends in spans(line, start, end))


def spans(line: Line, start: dt.datetime, end: dt.datetime) -> Iterator[tuple[dt.datetime, dt.datetime]]:
    """The spans [UTC] of a line around [start, end), on its own zone's clock, clock changes and all."""
    if line.weekday is None:
        if line.starts_at and line.ends_at:
            yield line.starts_at, line.ends_at
        return
    zone = ZoneInfo(line.zone)
    day = clock.local_day(start, zone) - DAY
    while day <= clock.local_day(end, zone):
        if day.weekday() == line.weekday:
            yield _span(line, day, zone)
        day += DAY


def _span(line: Line, day: dt.date, zone: ZoneInfo) -> tuple[dt.datetime, dt.datetime]:
    begins, ends = line.from_time or NOON, line.to_time or line.from_time or NOON
    last = day if ends > begins else day + DAY
    return (
        clock.from_local(dt.datetime.combine(day, begins), zone, "first"),
        clock.from_local(dt.datetime.combine(last, ends), zone, "second"),
    )
