"""Quiet hours by the rink's clock: across midnight, and in the nights of March and November when clocks change.

Clock changes from the tz database's rules, written out by hand: Toronto 2026-03-08 02:00 EST to 03:00 EDT and
2026-11-01 02:00 EDT to 01:00 EST; Oslo 2026-03-29 02:00 CET to 03:00 CEST and 2026-10-25 03:00 CEST to 02:00 CET.
"""

import datetime as dt
from collections.abc import Callable
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rinklog.telling.models import Delivery
from rinklog.telling.quiet import after_quiet, gathered_until
from tests.support.cast import NOW, Cast
from tests.support.mail_sink import Sink
from tests.support.messages import tell_one

TORONTO, OSLO = ZoneInfo("America/Toronto"), ZoneInfo("Europe/Oslo")


def utc(text: str) -> dt.datetime:
    """An instant in UTC."""
    return dt.datetime.fromisoformat(text).replace(tzinfo=dt.UTC)


def hours(text: str) -> tuple[dt.time, dt.time]:
    """Quiet hours written as 22:00-07:00."""
    start, end = text.split("-")
    return dt.time.fromisoformat(start), dt.time.fromisoformat(end)


@pytest.mark.parametrize(
    ("zone", "quiet", "told", "goes"),
    [
        # An ordinary January night in Oslo (UTC+1).
        (OSLO, "22:00-07:00", "2026-01-15 20:59", "2026-01-15 20:59"),
        (OSLO, "22:00-07:00", "2026-01-15 21:00", "2026-01-16 06:00"),
        (OSLO, "22:00-07:00", "2026-01-16 05:59", "2026-01-16 06:00"),
        (OSLO, "22:00-07:00", "2026-01-16 06:00", "2026-01-16 06:00"),
        # Within one day, and over New Year.
        (OSLO, "12:00-13:30", "2026-01-15 11:30", "2026-01-15 12:30"),
        (OSLO, "22:00-07:00", "2025-12-31 23:30", "2026-01-01 06:00"),
        # March: the night is an hour shorter; 7 in the morning is 11:00 UTC in Toronto, 05:00 UTC in Oslo.
        (TORONTO, "22:00-07:00", "2026-03-08 03:30", "2026-03-08 11:00"),
        (OSLO, "22:00-07:00", "2026-03-28 22:30", "2026-03-29 05:00"),
        # Quiet until 02:30, which that night skips: until the gap's end.
        (TORONTO, "22:00-02:30", "2026-03-08 06:59", "2026-03-08 07:00"),
        (OSLO, "22:00-02:30", "2026-03-29 00:30", "2026-03-29 01:00"),
        # Quiet from 02:30, skipped as well: from the gap's end.
        (TORONTO, "02:30-06:00", "2026-03-08 06:59", "2026-03-08 06:59"),
        (TORONTO, "02:30-06:00", "2026-03-08 07:00", "2026-03-08 10:00"),
        # November and October: an hour longer; 7 in the morning is 12:00 UTC in Toronto, 06:00 UTC in Oslo.
        (TORONTO, "22:00-07:00", "2026-11-01 05:30", "2026-11-01 12:00"),
        (OSLO, "22:00-07:00", "2026-10-24 22:30", "2026-10-25 06:00"),
        # Quiet until 01:30 (Toronto) or 02:30 (Oslo), which come twice: until the second one.
        (TORONTO, "22:00-01:30", "2026-11-01 05:29", "2026-11-01 06:30"),
        (TORONTO, "22:00-01:30", "2026-11-01 05:45", "2026-11-01 06:30"),
        (TORONTO, "22:00-01:30", "2026-11-01 06:30", "2026-11-01 06:30"),
        (OSLO, "22:00-02:30", "2026-10-25 00:31", "2026-10-25 01:30"),
        # Quiet from 01:30, twice: from the first one.
        (TORONTO, "01:30-06:00", "2026-11-01 05:29", "2026-11-01 05:29"),
        (TORONTO, "01:30-06:00", "2026-11-01 05:30", "2026-11-01 11:00"),
    ],
)
def test_what_comes_in_quiet_hours_goes_when_they_end(
    zone: ZoneInfo, quiet: str, told: str, goes: str
) -> None:
    assert after_quiet(utc(told), zone, *hours(quiet)) == utc(goes)


@given(
    minute=st.integers(0, 365 * 24 * 60),
    start=st.integers(0, 24 * 60 - 1),
    end=st.integers(0, 24 * 60 - 1),
    zone=st.sampled_from([TORONTO, OSLO]),
)
@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)
def test_it_never_goes_early_never_waits_over_a_day_and_an_hour_and_stays_where_it_is_put(
    minute: int, start: int, end: int, zone: ZoneInfo
) -> None:
    if start == end:
        return
    told = dt.datetime(2026, 1, 1, tzinfo=dt.UTC) + dt.timedelta(minutes=minute)
    quiet = [dt.time(*divmod(of_day, 60)) for of_day in (start, end)]
    goes = after_quiet(told, zone, *quiet)
    assert told <= goes <= told + dt.timedelta(hours=25)
    assert after_quiet(goes, zone, *quiet) == goes


@pytest.mark.parametrize(
    ("zone", "told", "goes"),
    [
        (OSLO, "2026-01-15 15:59", "2026-01-15 16:00"),
        (OSLO, "2026-01-15 16:01", "2026-01-16 16:00"),
        # Five in the afternoon, before and after the clocks of Toronto change on 8 March and 1 November.
        (TORONTO, "2026-03-07 22:01", "2026-03-08 21:00"),
        (TORONTO, "2026-10-31 21:01", "2026-11-01 22:00"),
    ],
)
def test_the_evening_digest_is_due_at_five_by_the_clock_on_the_wall(
    zone: ZoneInfo, told: str, goes: str
) -> None:
    assert gathered_until(utc(told), zone, "evening") == utc(goes)


def test_only_what_wakes_people_passes_quiet_hours(
    cast: Cast, by_mail: Callable[..., None], mail_sink: Sink
) -> None:
    # NOW is 21:30 in Oslo.
    by_mail(cast.cleo, quiet_from=dt.time(21), quiet_to=dt.time(6, 30), gather="at-once")
    due = {}
    for kind in ("off-ice-alarm", "shift-unfilled", "shift-offered"):
        tell_one(cast, cast.cleo, kind=kind, urgent=True)
        due[kind] = Delivery.objects.get(message__kind=kind).due_at
    assert due == {
        "off-ice-alarm": NOW,
        "shift-unfilled": utc("2026-01-16 05:30"),
        "shift-offered": utc("2026-01-16 05:30"),
    }


def test_quiet_hours_follow_the_rink_the_message_is_about(
    cast: Cast, by_mail: Callable[..., None], mail_sink: Sink
) -> None:
    by_mail(cast.cleo, quiet_from=dt.time(21), quiet_to=dt.time(7))
    cast.rink.time_zone = "America/Toronto"  # there it is half past three in the afternoon
    tell_one(cast, cast.cleo)
    assert Delivery.objects.get().due_at == NOW
