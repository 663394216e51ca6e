"""What is known of an hour. Expected values are worked out by hand in each test."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from rinklog.facts import Refused
from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.models import ForecastHour, ForecastRun, Observation
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.queries import fingerprint, known_hours, latest_run
from rinklog.weather.services import store_forecast, store_observations
from tests.support.cast import Cast

H = dt.timedelta(hours=1)
NOON = dt.datetime(2026, 1, 15, 12, tzinfo=dt.UTC)


def told(
    cast: Cast, made: dt.datetime, airs: list[float], *, provider: str = "met-norway", **more: object
) -> ForecastRun:
    """Store a run that begins when it was made, hour by hour."""
    hours = [Hour(at=made + n * H, air_c=air, **more) for n, air in enumerate(airs)]  # type: ignore[arg-type]
    return store_forecast(
        rink=cast.rink, provider=provider, forecast=Forecast(Parsed(hours), made), fetched_at=made + H / 12
    )


def seen(
    cast: Cast,
    at: dt.datetime,
    *,
    source: str = "station ENXX",
    recorded: dt.datetime | None = None,
    **values: object,
) -> int:
    """Store one observation."""
    hour = Hour(at=at, **values)  # type: ignore[arg-type]
    return store_observations(rink=cast.rink, source=source, hours=[hour], recorded_at=recorded or at + H)


def airs(cast: Cast, start: dt.datetime, end: dt.datetime, **more: object) -> list[float | None]:
    """The air of the known hours."""
    return [one.hour.air_c for one in known_hours(cast.rink, start, end, **more)]  # type: ignore[arg-type]


def test_the_newest_run_wins_and_an_older_one_goes_on_where_it_ends(cast: Cast) -> None:
    told(cast, NOON, [-1, -2, -3, -4])
    told(cast, NOON + H, [-20, -30])
    assert airs(cast, NOON, NOON + 9 * H) == [-1, -20, -30, -4]


def test_an_observation_beats_every_forecast_and_says_so(cast: Cast) -> None:
    told(cast, NOON, [-1, -2])
    seen(cast, NOON, air_c=-6.5)
    first, second = known_hours(cast.rink, NOON, NOON + 2 * H)
    assert (first.hour.air_c, first.observed, first.source) == (-6.5, True, "station ENXX")
    assert (second.hour.air_c, second.observed, second.source) == (-2, False, "met-norway")


def test_only_what_was_known_then_is_given(cast: Cast) -> None:
    told(cast, NOON, [-1, -2, -3])
    told(cast, NOON + H, [-20, -30])
    seen(cast, NOON + 2 * H, air_c=-9.0)
    assert airs(cast, NOON, NOON + 3 * H, known_at=NOON + H / 2) == [-1, -2, -3]
    assert airs(cast, NOON, NOON + 3 * H, known_at=NOON + 1.5 * H) == [-1, -20, -30]
    assert airs(cast, NOON, NOON + 3 * H, known_at=NOON + 2 * H) == [-1, -20, -9]
    assert latest_run(cast.rink, known_at=NOON) is None


def test_a_late_recorded_observation_counts_from_its_own_time(cast: Cast) -> None:
    seen(cast, NOON, air_c=-3.0, recorded=NOON + 48 * H)
    assert airs(cast, NOON, NOON + H, known_at=NOON) == [-3.0]


def test_a_report_speaks_for_the_nearest_full_hour_and_a_person_comes_first(cast: Cast) -> None:
    seen(cast, NOON - H / 6, air_c=-4.0, wind_ms=3.0)  # 11:50
    assert airs(cast, NOON - H, NOON) == []
    assert airs(cast, NOON, NOON + H) == [-4.0]
    seen(cast, NOON + H / 3, source="a person", air_c=-5.0)
    (one,) = known_hours(cast.rink, NOON, NOON + H)
    assert (one.hour.air_c, one.hour.wind_ms, one.observed, one.filled) == (-5.0, 3.0, True, ())
    assert one.source == "a person, the rest from station ENXX"


def test_what_a_person_did_not_read_comes_from_the_forecast_and_is_named(cast: Cast) -> None:
    told(cast, NOON, [-1], wind_ms=4.0, cloud_frac=0.5)
    seen(cast, NOON, source="a person", air_c=-5.0)
    (one,) = known_hours(cast.rink, NOON, NOON + H)
    assert (one.hour.air_c, one.hour.wind_ms, one.hour.cloud_frac, one.observed) == (-5.0, 4.0, 0.5, True)
    assert one.filled == ("wind_ms", "cloud_frac")


def test_wind_and_gust_of_two_sources_are_never_put_together(cast: Cast) -> None:
    told(cast, NOON, [-1], wind_ms=4.0, gust_ms=5.0)
    seen(cast, NOON, air_c=-5.0, wind_ms=8.0)
    (one,) = known_hours(cast.rink, NOON, NOON + H)
    assert (one.hour.wind_ms, one.hour.gust_ms) == (8.0, None)


def test_a_wind_alone_is_no_observed_hour(cast: Cast) -> None:
    told(cast, NOON, [-1])
    seen(cast, NOON, source="a person", wind_ms=8.0)
    (one,) = known_hours(cast.rink, NOON, NOON + H)
    assert (one.hour.air_c, one.hour.wind_ms, one.observed, one.filled) == (-1, 8.0, False, ("air_c",))


def test_steps_of_six_hours_are_spread_on_a_line_and_flagged(cast: Cast) -> None:
    steps = [
        Hour(at=NOON, air_c=-6.0, precip_mm=3.0, step_s=21600),
        Hour(at=NOON + 6 * H, air_c=-12.0, precip_mm=0.0, step_s=21600),
    ]
    store_forecast(
        rink=cast.rink, provider="met-norway", forecast=Forecast(Parsed(steps), NOON), fetched_at=NOON
    )
    hours = known_hours(cast.rink, NOON, NOON + 12 * H)
    assert [one.hour.air_c for one in hours[:7]] == [-6, -7, -8, -9, -10, -11, -12]
    assert [one.hour.precip_mm for one in hours[:6]] == [0.5] * 6
    assert {one.source for one in hours} == {"met-norway, from steps of 6 h"}
    assert all(one.interpolated and one.hour.step_s == 3600 for one in hours)
    assert airs(cast, NOON + 3 * H, NOON + 4 * H) == [-9]


def test_the_same_forecast_twice_is_one_run_and_the_same_observation_one_row(cast: Cast) -> None:
    assert told(cast, NOON, [-1, -2]) == told(cast, NOON, [-1, -2])
    assert ForecastHour.objects.count() == 2
    assert (seen(cast, NOON, air_c=-1.0), seen(cast, NOON, air_c=-1.0)) == (1, 0)
    assert Observation.objects.count() == 1


def test_a_correction_replaces_what_it_says_and_erases_nothing(cast: Cast) -> None:
    seen(cast, NOON, air_c=-1.0, precip_mm=0.4)
    assert seen(cast, NOON, air_c=-1.5) == 1
    (one,) = known_hours(cast.rink, NOON, NOON + H)
    assert (one.hour.air_c, one.hour.precip_mm) == (-1.5, 0.4)


def test_the_fingerprint_moves_with_the_hours_it_covers_and_with_nothing_else(cast: Cast) -> None:
    seen(cast, NOON, air_c=-1.0)
    marks = [fingerprint(cast.rink, NOON, NOON + 6 * H)]
    seen(cast, NOON + 7 * H, air_c=-1.0)
    told(cast, NOON + 6 * H, [-3])
    assert fingerprint(cast.rink, NOON, NOON + 6 * H) == marks[0]
    seen(cast, NOON, air_c=-1.5)
    marks.append(fingerprint(cast.rink, NOON, NOON + 6 * H))
    told(cast, NOON + 3 * H, [-3])
    marks.append(fingerprint(cast.rink, NOON, NOON + 6 * H))
    assert len(set(marks)) == 3
    assert fingerprint(cast.rink, NOON, NOON + 6 * H, known_at=NOON + H) == marks[1]


def test_a_season_is_read_in_two_queries(cast: Cast) -> None:
    told(cast, NOON, [-1] * 60)
    seen(cast, NOON, air_c=-1.5)
    with CaptureQueriesContext(
        connection,
    ) as queries:
        known_hours(cast.rink, NOON - 2000 * H, NOON + 2000 * H)
    assert len(queries) == 2


def test_a_forecast_says_nothing_of_the_past(cast: Cast) -> None:
    hours = [Hour(at=NOON + n * H, air_c=-float(n)) for n in range(-6, 3)]
    store_forecast(
        rink=cast.rink, provider="us-nws", forecast=Forecast(Parsed(hours), NOON), fetched_at=NOON + H / 2
    )
    assert airs(cast, NOON - 9 * H, NOON + 9 * H) == [0, -1, -2]


def test_a_clock_wrong_by_a_day_is_refused_in_either_direction(cast: Cast) -> None:
    hours = [Hour(at=NOON + n * H, air_c=-1.0) for n in range(6)]
    for made, fetched, word in (
        (NOON + 24 * H, NOON, "later than now"),
        (NOON, NOON + 24 * H, "which is past"),
    ):
        with pytest.raises(Refused, match=word):
            store_forecast(
                rink=cast.rink, provider="us-nws", forecast=Forecast(Parsed(hours), made), fetched_at=fetched
            )
    assert not ForecastRun.objects.exists()


def test_another_rinks_weather_is_not_ours(cast: Cast) -> None:
    store_observations(
        rink=cast.other_rink, source="file", hours=[Hour(at=NOON, air_c=-1.0)], recorded_at=NOON
    )
    assert airs(cast, NOON, NOON + H) == []
