"""When people can come, in the zone they said it in, through the nights on which the clocks change.

Europe/Oslo springs forward on 29 March 2026 at 01:00 UTC and falls back on 25 October; America/New_York springs forward
on 8 March 2026 at 07:00 UTC and falls back on 1 November at 06:00 UTC (tz database).
"""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from rinklog.plan.rules.availability import Line, can_come, wish
from rinklog.plan.rules.dark import is_dark


def utc(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text).replace(tzinfo=dt.UTC)


SATURDAY, SUNDAY = 5, 6


def test_without_a_line_anybody_can_come_and_an_absence_keeps_them_away() -> None:
    night = utc("2026-01-15T19:00"), utc("2026-01-15T21:00")
    assert can_come([], *night)
    away = Line("away", "Europe/Oslo", starts_at=utc("2026-01-15T20:30"), ends_at=utc("2026-01-16T06:00"))
    assert not can_come([away], *night)
    assert can_come([away], utc("2026-01-15T18:00"), utc("2026-01-15T20:30"))  # it ends as the absence begins


@pytest.mark.parametrize(
    ("zone", "day", "from_time", "to_time", "start", "end", "can"),
    [
        # Oslo, the night to 29 March: 22:00 to 04:00 lasts five hours, 21:00 to 02:00 UTC.
        ("Europe/Oslo", SATURDAY, "22:00", "04:00", "2026-03-28T21:00", "2026-03-29T02:00", True),
        ("Europe/Oslo", SATURDAY, "22:00", "04:00", "2026-03-28T21:00", "2026-03-29T02:01", False),
        # Oslo, the night to 25 October: it lasts seven hours, 20:00 to 03:00 UTC.
        ("Europe/Oslo", SATURDAY, "22:00", "04:00", "2026-10-24T20:00", "2026-10-25T03:00", True),
        ("Europe/Oslo", SATURDAY, "22:00", "04:00", "2026-10-24T19:59", "2026-10-25T03:00", False),
        # New York, the night to 8 March: 22:00 EST to 04:00 EDT is 03:00 to 08:00 UTC.
        ("America/New_York", SATURDAY, "22:00", "04:00", "2026-03-08T03:00", "2026-03-08T08:00", True),
        ("America/New_York", SATURDAY, "22:00", "04:00", "2026-03-08T03:00", "2026-03-08T08:01", False),
        # New York, the night to 1 November: 22:00 EDT to 04:00 EST is 02:00 to 09:00 UTC.
        ("America/New_York", SATURDAY, "22:00", "04:00", "2026-11-01T02:00", "2026-11-01T09:00", True),
        # A Saturday in New York is not yet Sunday there when it is in Oslo.
        ("America/New_York", SUNDAY, "18:00", "23:00", "2026-03-28T23:00", "2026-03-29T00:00", False),
        ("America/New_York", SATURDAY, "18:00", "23:00", "2026-03-28T23:00", "2026-03-29T00:00", True),
    ],
)
def test_a_weekly_line_follows_its_own_clock(
    zone: str, day: int, from_time: str, to_time: str, start: str, end: str, can: bool
) -> None:
    line = Line("can", zone, day, dt.time.fromisoformat(from_time), dt.time.fromisoformat(to_time))
    assert can_come([line], utc(start), utc(end)) is can


def test_a_weekday_without_times_is_that_night_from_noon_to_noon() -> None:
    tuesdays = Line("can", "Europe/Oslo", 1)
    assert can_come([tuesdays], utc("2026-01-13T20:00"), utc("2026-01-14T02:00"))
    assert not can_come(
        [tuesdays], utc("2026-01-13T10:00"), utc("2026-01-13T12:00")
    )  # before noon: Monday's night


def test_wishes_are_told_apart_and_cancel_each_other() -> None:
    night = utc("2026-01-13T19:00"), utc("2026-01-13T21:00")
    likes, rather_not = Line("likes", "Europe/Oslo", 1), Line("rather-not", "Europe/Oslo", 1)
    assert [wish([likes], *night), wish([rather_not], *night), wish([likes, rather_not], *night)] == [
        1,
        -1,
        0,
    ]
    assert wish([likes], utc("2026-01-14T19:00"), utc("2026-01-14T21:00")) == 0


@pytest.mark.parametrize(
    ("at", "dark"),
    [
        # Oslo, 15 January: sunset about 15:53, end of civil twilight 16:42, sunrise 9:06 local time (from memory).
        ("2026-01-15T14:30", False),
        ("2026-01-15T16:30", True),
        ("2026-01-15T05:00", True),
        ("2026-01-15T09:00", False),
    ],
)
def test_it_is_dark_when_civil_twilight_has_ended(at: str, dark: bool) -> None:
    assert is_dark(utc(at), ZoneInfo("Europe/Oslo"), 59.91, 10.75) is dark


def test_without_a_position_the_clock_says_when_it_is_dark() -> None:
    oslo = ZoneInfo("Europe/Oslo")
    hours = [is_dark(utc(f"2026-01-15T{hour:02d}:30"), oslo, None, None) for hour in (6, 7, 14, 15)]
    assert hours == [True, False, False, True]
