"""Local days, nights and seasons; clock changes from the tz database, worked out by hand as literals."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rinklog import clock

OSLO = ZoneInfo("Europe/Oslo")
TORONTO = ZoneInfo("America/Toronto")
BEIRUT = ZoneInfo("Asia/Beirut")
APIA = ZoneInfo("Pacific/Apia")
ZONES = st.sampled_from([OSLO, TORONTO, BEIRUT, ZoneInfo("Australia/Lord_Howe"), ZoneInfo("Asia/Kathmandu")])
MOMENTS = st.datetimes(datetime(1990, 1, 1), datetime(2045, 1, 1), timezones=st.just(UTC))


def test_three_in_the_morning_belongs_to_the_evening_before() -> None:
    assert clock.night_of(datetime(2027, 1, 6, 2, tzinfo=UTC), OSLO) == date(2027, 1, 5)
    assert clock.night_of(datetime(2027, 1, 6, 19, tzinfo=UTC), OSLO) == date(2027, 1, 6)


def test_new_years_night_belongs_to_the_old_year() -> None:
    assert clock.night_of(datetime(2027, 1, 1, 4, tzinfo=UTC), TORONTO) == date(2026, 12, 31)


def test_a_day_is_cut_where_the_rink_is() -> None:
    start, end = clock.day_bounds(date(2027, 1, 5), TORONTO)
    assert (start, end) == (datetime(2027, 1, 5, 5, tzinfo=UTC), datetime(2027, 1, 6, 5, tzinfo=UTC))


def test_clock_changes_make_days_of_23_and_25_hours() -> None:
    hours = [clock.day_length(d, OSLO) / timedelta(hours=1) for d in (date(2027, 3, 28), date(2027, 10, 31))]
    assert hours == [23, 25]


def test_a_night_with_a_clock_change_is_an_hour_shorter() -> None:
    start, end = clock.night_bounds(date(2027, 3, 27), OSLO)
    assert end - start == timedelta(hours=23)


def test_a_day_without_a_midnight_starts_when_the_clock_first_runs() -> None:
    # Beirut put its clock from 0:00 to 1:00 on 26 March 2017 (tz database).
    assert clock.day_bounds(date(2017, 3, 26), BEIRUT)[0] == datetime(2017, 3, 25, 22, tzinfo=UTC)


def test_a_day_whose_midnight_lies_within_a_gap_starts_at_the_gaps_end() -> None:
    # Toronto put its clock from 23:30 to 0:30 on 30 March 1919 (tz database).
    assert clock.day_bounds(date(1919, 3, 31), TORONTO)[0] == datetime(1919, 3, 31, 4, 30, tzinfo=UTC)


def test_a_date_that_never_was_is_empty() -> None:
    # Samoa skipped 30 December 2011 (tz database).
    assert clock.day_length(date(2011, 12, 30), APIA) == timedelta(0)


def test_a_time_the_clock_shows_twice_offers_both() -> None:
    wall = datetime(2027, 10, 31, 2, 30)
    with pytest.raises(clock.LocalTimeError) as caught:
        clock.from_local(wall, OSLO)
    assert caught.value.code == "ambiguous"
    assert caught.value.choices == (
        datetime(2027, 10, 31, 0, 30, tzinfo=UTC),
        datetime(2027, 10, 31, 1, 30, tzinfo=UTC),
    )
    assert clock.from_local(wall, OSLO, "second") == datetime(2027, 10, 31, 1, 30, tzinfo=UTC)


def test_a_time_the_clock_never_shows_is_missing() -> None:
    with pytest.raises(clock.LocalTimeError) as caught:
        clock.from_local(datetime(2027, 3, 28, 2, 30), OSLO)
    assert caught.value.code == "missing"
    assert "2027-03-28 02:30" in str(caught.value)


def test_times_without_an_offset_and_walls_with_one_are_refused() -> None:
    with pytest.raises(ValueError, match="offset"):
        clock.local_day(datetime(2027, 1, 1), OSLO)
    with pytest.raises(ValueError, match="offset"):
        clock.from_local(datetime(2027, 1, 1, tzinfo=UTC), OSLO)


def test_a_season_runs_across_new_year() -> None:
    assert [clock.season_year(d) for d in (date(2026, 7, 1), date(2027, 6, 30), date(2027, 1, 1))] == [
        2026
    ] * 3
    assert clock.season_name(2026) == "2026–27"
    assert clock.season_name(1999) == "1999–00"
    assert clock.season_days(2026) == (date(2026, 7, 1), date(2027, 6, 30))


def test_a_southern_season_stays_within_its_year() -> None:
    assert clock.season_year(date(2026, 6, 30), starts=1) == 2026
    assert clock.season_name(2026, starts=1) == "2026"


@given(MOMENTS, ZONES)
def test_every_instant_lies_within_its_own_day_and_night(when: datetime, zone: ZoneInfo) -> None:
    start, end = clock.day_bounds(clock.local_day(when, zone), zone)
    assert start <= when < end
    start, end = clock.night_bounds(clock.night_of(when, zone), zone)
    assert start <= when < end


@given(st.dates(date(1990, 1, 1), date(2045, 1, 1)), ZONES)
def test_each_day_ends_where_the_next_begins(day: date, zone: ZoneInfo) -> None:
    assert clock.day_bounds(day, zone)[1] == clock.day_bounds(day + timedelta(days=1), zone)[0]


@given(MOMENTS, ZONES)
def test_a_wall_clock_reads_back_to_its_instant(when: datetime, zone: ZoneInfo) -> None:
    wall = clock.local(when, zone).replace(tzinfo=None)
    assert when in (clock.from_local(wall, zone, "first"), clock.from_local(wall, zone, "second"))


def test_hours_between_are_whole_and_within() -> None:
    found = clock.hours_between(datetime(2027, 1, 1, 0, 30, tzinfo=UTC), datetime(2027, 1, 1, 3, tzinfo=UTC))
    assert [h.hour for h in found] == [1, 2]
