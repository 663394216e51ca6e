"""Wind and snow over a loose liner and an open fill. Limits are the crew's own; common practice, no source."""

import datetime as dt

from rinklog.advice.fill.liner import calm_stretches
from rinklog.advice.fill.sky import Sky
from rinklog.advice.fill.storm import Limits, is_watched, turnings
from tests.advice.fill_sky import HOUR, NOW, OSLO, hours

LIMITS = Limits(gust_ms=10.0, snow_mm=2.0)


def told(skies: list[Sky]) -> list[tuple[str, dt.datetime, float, int]]:
    return [(one.what, one.at, one.amount, one.grade) for one in turnings(skies, NOW, LIMITS, OSLO)]


def test_a_calm_dry_forecast_says_nothing() -> None:
    assert told(hours(48)) == []
    assert told([]) == []


def test_the_first_gust_at_the_limit_is_told_with_the_worst_to_come() -> None:
    skies = [*hours(20), *hours(1, NOW + 20 * HOUR, gust_ms=10.0), *hours(1, NOW + 21 * HOUR, gust_ms=14.9)]
    assert told(skies) == [("wind", NOW + 20 * HOUR, 14.9, 1)]
    assert told([*hours(20), *hours(1, NOW + 20 * HOUR, gust_ms=9.9)]) == []


def test_where_no_gust_is_given_the_wind_itself_counts() -> None:
    skies = [Sky(NOW + n * HOUR, -8.0, wind_ms=11.0) for n in range(3)]
    assert told(skies) == [("wind", NOW, 11.0, 1)]


def test_snow_is_summed_over_twelve_hours_and_rain_is_no_snow() -> None:
    # 0.5 mm an hour: 2.0 mm are there in the fourth hour; 12 hours of it are 6.0 mm, thrice the limit.
    assert told(hours(14, precip_mm=0.5)) == [("snow", NOW + 3 * HOUR, 6.0, 2)]
    assert told(hours(14, precip_mm=0.5, air_c=3.0)) == []
    # 0.16 mm an hour are 1.92 mm in any twelve hours.
    assert told(hours(48, precip_mm=0.16)) == []


def test_a_turning_that_shifts_by_hours_keeps_its_key_and_a_much_worse_one_gets_another() -> None:
    def key(at: int, gust_ms: float) -> str:
        return turnings([*hours(8), *hours(1, NOW + at * HOUR, gust_ms=gust_ms)], NOW, LIMITS, OSLO)[0].key

    assert key(9, 11.0) == key(7, 12.0) == "storm-wind-2026-12-01-1"
    assert key(9, 15.0) == "storm-wind-2026-12-01-2"
    assert key(12, 11.0) == "storm-wind-2026-12-02-1"  # midnight in Oslo, an hour before it in UTC


def test_what_lies_past_two_days_or_behind_is_not_told() -> None:
    assert told(hours(1, NOW + 49 * HOUR, gust_ms=30.0)) == []
    assert told(hours(1, NOW - 2 * HOUR, gust_ms=30.0)) == []


def test_somebody_watches_while_it_is_built_while_a_fill_is_open_or_when_the_keeper_says_so() -> None:
    assert is_watched(phase="setting-up", open_fill=False, always=False)
    assert is_watched(phase="building", open_fill=False, always=False)
    assert is_watched(phase="skating", open_fill=True, always=False)
    assert is_watched(phase="skating", open_fill=False, always=True)
    assert not is_watched(phase="skating", open_fill=False, always=False)


def test_a_liner_is_laid_in_three_calm_dry_hours_of_daylight() -> None:
    # From noon to 17:00 in Oslo there are five hours of daylight, and nine the next day (8 to 17).
    first, second = calm_stretches(hours(30), OSLO, limit_ms=5.0)
    assert (first.starts_at, first.ends_at) == (NOW, NOW + 5 * HOUR)
    assert (second.ends_at - second.starts_at, second.blows_ms) == (9 * HOUR, 3.0)
    assert calm_stretches(hours(30, gust_ms=5.0), OSLO, limit_ms=5.0) == []
    assert calm_stretches(hours(30, precip_mm=0.1), OSLO, limit_ms=5.0) == []
    assert calm_stretches([Sky(NOW + n * HOUR, -8.0) for n in range(30)], OSLO, limit_ms=5.0) == []
    assert calm_stretches([*hours(2), *hours(2, NOW + 3 * HOUR)], OSLO, limit_ms=5.0) == []
