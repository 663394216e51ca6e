"""Rink-local days, nights and seasons; aware UTC outside, the rink's own zone inside.

A night belongs to the date of its evening: 3 in the morning of the 6th is the night of the 5th.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

Which = Literal["refuse", "first", "second"]
SEASON_STARTS = 7
"""First month of a season: July in the northern half of the world, January in the southern."""
NIGHT_TURNS = time(12)
"""Local hour at which one night's date gives way to the next."""


class LocalTimeError(ValueError):
    """A wall-clock time that the rink's zone has twice or not at all.

    `code` is "ambiguous" or "missing"; `choices` are the two instants in UTC (both readings, or the wall time
    read with the offset before and after the gap), so that a form can offer them.
    """

    def __init__(self, code: str, wall: datetime, choices: tuple[datetime, datetime]) -> None:
        self.code, self.wall, self.choices = code, wall, choices
        reason = "happens twice" if code == "ambiguous" else "does not exist"
        super().__init__(f"{wall:%Y-%m-%d %H:%M} {reason}: the clocks change then.")


def as_utc(when: datetime) -> datetime:
    """The same instant in UTC. Arguments: when [aware]. Errors: ValueError for a time without an offset."""
    if when.utcoffset() is None:
        raise ValueError("a time needs its offset from UTC")
    return when.astimezone(UTC)


def from_local(wall: datetime, zone: ZoneInfo, which: Which = "refuse") -> datetime:
    """The instant at which the rink's clock shows a time.

    Arguments: wall [naive], zone, which of two readings when the clock shows it twice; in a gap "first" reads
    it with the offset before the change, "second" with the one after. Returns: [UTC]. Errors: LocalTimeError
    when refused.
    """
    if wall.tzinfo is not None:
        raise ValueError("a wall-clock time has no offset")
    early, late = (wall.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1))
    if early == late:
        return early
    if which != "refuse":
        return early if which == "first" else late
    exists = early.astimezone(zone).replace(tzinfo=None) == wall
    raise LocalTimeError("ambiguous" if exists else "missing", wall, (early, late))


def local(when: datetime, zone: ZoneInfo) -> datetime:
    """The rink's wall clock at an instant. Arguments: when [aware], zone. Returns: [aware, in the zone]."""
    return as_utc(when).astimezone(zone)


def local_day(when: datetime, zone: ZoneInfo) -> date:
    """The rink's calendar date at an instant. Arguments: when [aware], zone. Returns: date."""
    return local(when, zone).date()


def day_bounds(day: date, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """Start and end of a local day; where midnight falls in a gap, the day starts at the gap's end.

    Arguments: day, zone. Returns: (start, end) [UTC], end not included.
    """
    return first_showing(day, time(0), zone), first_showing(day + timedelta(days=1), time(0), zone)


def days_bounds(first: date, last: date, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """Start of the first day and end of the last.

    Arguments: first, last, zone. Returns: [UTC], end not included.
    """
    return day_bounds(first, zone)[0], day_bounds(last, zone)[1]


def day_length(day: date, zone: ZoneInfo) -> timedelta:
    """How long a local day lasts: 24 h but for clock changes. Arguments: day, zone. Returns: timedelta."""
    start, end = day_bounds(day, zone)
    return end - start


def night_of(when: datetime, zone: ZoneInfo) -> date:
    """The date whose evening an instant's night began on. Arguments: when [aware], zone. Returns: date."""
    wall = local(when, zone)
    return wall.date() if wall.time() >= NIGHT_TURNS else wall.date() - timedelta(days=1)


def night_bounds(night: date, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """From noon of a date to noon of the next. Arguments: night, zone. Returns: [UTC], end not included."""
    return first_showing(night, NIGHT_TURNS, zone), first_showing(
        night + timedelta(days=1), NIGHT_TURNS, zone
    )


def season_year(day: date, starts: int = SEASON_STARTS) -> int:
    """The year in which a date's season began. Arguments: day, starts [month 1-12]. Returns: year."""
    return day.year if day.month >= _month(starts) else day.year - 1


def season_name(year: int, starts: int = SEASON_STARTS) -> str:
    """ "2026–27", or "2026" where a season stays within one year.

    Arguments: year, starts [month]. Returns: text.
    """
    return str(year) if _month(starts) == 1 else f"{year}–{(year + 1) % 100:02d}"


def season_days(year: int, starts: int = SEASON_STARTS) -> tuple[date, date]:
    """First and last date of a season.

    Arguments: year it began in, starts [month]. Returns: (first, last).
    """
    first = date(year, _month(starts), 1)
    return first, date(year + 1, starts, 1) - timedelta(days=1)


def season_bounds(year: int, zone: ZoneInfo, starts: int = SEASON_STARTS) -> tuple[datetime, datetime]:
    """Start and end of a season on the rink's clock.

    Arguments: year it began in, zone, starts [month]. Returns: [UTC], end not included.
    """
    return days_bounds(*season_days(year, starts), zone)


def hours_between(start: datetime, end: datetime) -> list[datetime]:
    """Every full UTC hour h with start <= h < end. Arguments: start, end [aware]. Returns: [UTC]."""
    hour = as_utc(start).replace(minute=0, second=0, microsecond=0)
    if hour < as_utc(start):
        hour += timedelta(hours=1)
    count = max(0, -((hour - as_utc(end)) // timedelta(hours=1)))
    return [hour + timedelta(hours=i) for i in range(count)]


def first_showing(day: date, at: time, zone: ZoneInfo) -> datetime:
    """First instant at which the rink's clock shows this time or, in a gap, a later one.

    Arguments: day, at [local], zone. Returns: [UTC].
    """
    wall = datetime.combine(day, at)
    early, late = (wall.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1))
    if early <= late:
        return early
    low, high = late, early
    while high - low > timedelta(seconds=1):
        middle = low + (high - low) / 2
        low, high = (middle, high) if middle.astimezone(zone).replace(tzinfo=None) < wall else (low, middle)
    return high.replace(microsecond=0)


def last_showing(day: date, at: time, zone: ZoneInfo) -> datetime:
    """Last instant at which the rink's clock shows this time or, in a gap, a later one.

    Arguments: day, at [local], zone. Returns: [UTC]; the second reading where the clock shows the time twice.
    """
    late = datetime.combine(day, at).replace(tzinfo=zone, fold=1).astimezone(UTC)
    return max(first_showing(day, at, zone), late)


def _month(starts: int) -> int:
    if not 1 <= starts <= 12:
        raise ValueError(f"starts is {starts}; permitted: 1 to 12.")
    return starts
