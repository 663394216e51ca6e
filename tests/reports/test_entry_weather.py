"""Every entry has the weather of its hours: observed if known, else foretold and said so; what comes late corrects it."""

import datetime as dt

import pytest
from django.test import Client
from django.urls import reverse

from rinklog.reports.entry_weather import weather_of
from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.queries import known_hours, known_spans
from rinklog.weather.services import store_forecast, store_observations
from rinklog.web.weather.words import in_short
from tests.support.cast import NOW, Cast
from tests.support.counting import CountQueries, queries_of

HOUR, MINUTE = dt.timedelta(hours=1), dt.timedelta(minutes=1)
EIGHT = NOW - 30 * MINUTE  # NOW is half past eight in the evening, UTC


def foretell(cast: Cast, airs: list[float], first: dt.datetime = EIGHT) -> None:
    """A forecast made an hour before, with falling snow in the second hour."""
    hours = [
        Hour(at=first + n * HOUR, air_c=air, wind_ms=2.0 + n, precip_mm=0.3 * (n == 1))
        for n, air in enumerate(airs)
    ]
    made = first - HOUR
    forecast = Forecast(Parsed(hours), made)
    store_forecast(rink=cast.rink, provider="met-norway", forecast=forecast, fetched_at=made)


def see(cast: Cast, at: dt.datetime, air_c: float, recorded: dt.datetime | None = None) -> None:
    """A station's observation."""
    hour = Hour(at=at, air_c=air_c, wind_ms=7.0, precip_mm=0.0, cloud_frac=0.2)
    store_observations(rink=cast.rink, source="station ENXX", hours=[hour], recorded_at=recorded or at)


def test_an_entry_has_the_weather_of_every_hour_it_touches_and_of_no_other(cast: Cast) -> None:
    foretell(cast, [-8.0, -9.5, -11.0, -30.0])
    flood = cast.flood(started_at=NOW, ended_at=NOW + 100 * MINUTE)  # 20:30 to 22:10: hours 20, 21 and 22
    weather = weather_of(cast.rink, [flood])[flood.id]
    assert weather.hours == 3
    assert (weather.air_low_c, weather.air_high_c) == (-11.0, -8.0)
    assert weather.wind_ms == pytest.approx(3.0)  # (2 + 3 + 4) / 3
    assert weather.precip_mm == pytest.approx(0.3)
    assert (weather.observed, weather.sources) == (False, ("met-norway",))


def test_an_entry_that_ends_on_the_hour_does_not_have_the_next_one(cast: Cast) -> None:
    foretell(cast, [-8.0, -9.5])
    flood = cast.flood(started_at=NOW, ended_at=EIGHT + HOUR)
    assert weather_of(cast.rink, [flood])[flood.id].hours == 1


def test_an_observation_that_comes_a_month_late_takes_the_forecasts_place(cast: Cast) -> None:
    foretell(cast, [-8.0])
    flood = cast.flood(started_at=NOW)
    assert not weather_of(cast.rink, [flood])[flood.id].observed
    see(cast, EIGHT, -12.4, recorded=NOW + dt.timedelta(days=30))
    weather = weather_of(cast.rink, [flood])[flood.id]
    assert (weather.air_low_c, weather.observed, weather.sources) == (-12.4, True, ("station ENXX",))


def test_what_only_the_forecast_says_of_an_observed_hour_is_not_called_observed(cast: Cast) -> None:
    foretell(cast, [-8.0])
    hour = Hour(at=EIGHT, air_c=-12.4)  # a thermometer and nothing else
    store_observations(rink=cast.rink, source="a person", hours=[hour], recorded_at=NOW)
    flood = cast.flood(started_at=NOW)
    weather = weather_of(cast.rink, [flood])[flood.id]
    assert (weather.observed, weather.guessed, weather.wind_ms) == (True, True, 2.0)
    assert in_short(weather) == "-12.4 °C, wind 7 km/h (partly observed)"


def test_half_observed_is_not_called_observed(cast: Cast) -> None:
    foretell(cast, [-8.0, -9.0])
    see(cast, EIGHT, -8.5)
    flood = cast.flood(started_at=NOW, ended_at=NOW + HOUR)
    weather = weather_of(cast.rink, [flood])[flood.id]
    assert (weather.air_low_c, weather.air_high_c, weather.observed) == (-9.0, -8.5, False)


def test_an_hour_nobody_knows_is_left_out_rather_than_invented(cast: Cast) -> None:
    assert weather_of(cast.rink, [cast.flood()]) == {}


def test_another_rinks_weather_is_not_ours(cast: Cast) -> None:
    store_observations(
        rink=cast.other_rink, source="station ENXX", hours=[Hour(at=EIGHT, air_c=-1.0)], recorded_at=NOW
    )
    assert weather_of(cast.rink, [cast.flood()]) == {}


def test_stretches_together_are_the_same_hours_as_one_by_one(cast: Cast) -> None:
    foretell(cast, [float(-n) for n in range(60)])
    see(cast, EIGHT + 5 * HOUR, -20.0)
    spans = [(EIGHT + a * HOUR, EIGHT + b * HOUR) for a, b in ((30, 33), (2, 4), (3, 7), (50, 50), (33, 35))]
    apart = {one.hour.at: one for start, end in spans for one in known_hours(cast.rink, start, end)}
    assert known_spans(cast.rink, spans) == [apart[at] for at in sorted(apart)]
    assert len(apart) == 10  # hours 2 to 6 and 30 to 34


def test_forty_entries_ask_no_more_than_one(cast: Cast) -> None:
    foretell(cast, [float(-n) for n in range(48)])
    floods = [cast.flood(started_at=NOW + n * HOUR, now=NOW + 40 * HOUR) for n in range(40)]
    with CountQueries() as one:
        weather_of(cast.rink, floods[:1])
    with CountQueries() as forty:
        assert len(weather_of(cast.rink, floods)) == 40
    assert (one.count, forty.count) == (2, 2)


def test_the_log_and_the_entry_say_it_in_the_readers_units(cast: Cast) -> None:
    foretell(cast, [-10.0])
    flood = cast.flood(started_at=NOW)
    client = Client()
    client.force_login(cast.cleo)
    log, entry = reverse("log", args=[cast.rink.slug]), reverse("entry", args=[cast.rink.slug, flood.id])
    assert "-10.0 °C, wind 7 km/h (forecast)" in client.get(log).content.decode()
    page = client.get(entry).content.decode()
    assert "Forecast, not observed: MET Norway, made Thu 15 Jan 20:00." in page
    cast.cleo.temperature_unit, cast.cleo.speed_unit = "F", "mph"
    cast.cleo.save()
    see(cast, EIGHT, -12.0)
    # −12 °C is 10.4 °F; 7 m/s are 15.66 mph (1 mph = 0.44704 m/s).
    assert "10 °F, wind 16 mph (observed)" in client.get(log).content.decode()
    assert "Observed: station ENXX." in client.get(entry).content.decode()


def test_the_log_asks_the_same_with_weather_for_one_row_and_for_thirty(cast: Cast) -> None:
    foretell(cast, [float(-n) for n in range(48)])
    client = Client()
    client.force_login(cast.cleo)
    counts = []
    for rows in (1, 30):
        for n in range(rows):
            cast.flood(started_at=NOW + n * HOUR, now=NOW + 40 * HOUR)
        counts.append(queries_of(client, f"/r/{cast.rink.slug}/log/"))
    assert counts[0] == counts[1]
