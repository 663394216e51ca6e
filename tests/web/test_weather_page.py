"""The weather page: its sun, its numbers, what it says when something is missing."""

import csv
import datetime as dt
import io
import re
from zoneinfo import ZoneInfo

import pandas as pd
import pvlib
import pytest
from django.test import Client

from rinklog.rink.models import Rink
from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.known import KnownHour
from rinklog.weather.models import ProviderState
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.queries import known_hours
from rinklog.weather.services import store_forecast
from rinklog.web.weather.cold import chill_c, frostbite_class
from rinklog.web.weather.daylight import nights, sun_days
from rinklog.web.weather.picture import summary
from rinklog.web.weather.window import shown_days
from tests.support.cast import NOW, Cast
from tests.support.counting import queries_of
from tests.support.moment import stand_still
from tests.support.weather_days import DAY, HOUR, START, a_week_of_weather, an_hour

OSLO, CHICAGO = ZoneInfo("Europe/Oslo"), ZoneInfo("America/Chicago")


@pytest.fixture
def cleo(cast: Cast, client: Client, monkeypatch: pytest.MonkeyPatch) -> Client:
    """Cleo's browser, at NOW."""
    stand_still(monkeypatch, NOW)
    client.force_login(cast.cleo)
    return client


def page_of(client: Client, cast: Cast, query: str = "") -> str:
    """The page's text."""
    answer = client.get(f"/r/{cast.rink.slug}/weather/{query}")
    assert answer.status_code == 200
    return answer.content.decode()


@pytest.mark.parametrize(("latitude", "longitude", "zone"), [(60.2, 11.1, OSLO), (41.9, -87.6, CHICAGO)])
def test_sunrise_and_sunset_agree_with_pvlib_within_a_minute(
    latitude: float, longitude: float, zone: ZoneInfo
) -> None:
    rink = Rink(latitude=latitude, longitude=longitude)
    first, last = dt.date(2026, 3, 6), dt.date(2026, 3, 10)  # over Chicago's clock change
    ours = sun_days(rink, first, last, zone)
    noons = pd.DatetimeIndex([pd.Timestamp.combine(one.day, dt.time(12)).tz_localize(zone) for one in ours])
    theirs = pvlib.solarposition.sun_rise_set_transit_spa(noons, latitude, longitude)
    for one, rise, fall in zip(ours, theirs["sunrise"], theirs["sunset"], strict=True):
        assert one.sunrise is not None
        assert one.sunset is not None
        assert abs((one.sunrise - rise).total_seconds()) < 60
        assert abs((one.sunset - fall).total_seconds()) < 60


def test_nights_are_the_time_between_sunset_and_sunrise_and_fill_the_rest_of_the_days() -> None:
    rink = Rink(latitude=60.2, longitude=11.1)
    start, end = START, START + 3 * DAY
    suns = sun_days(rink, dt.date(2026, 1, 13), dt.date(2026, 1, 15), OSLO)
    found = nights(rink, start, end, OSLO)
    assert len(found) == 4
    for before, after, sun in zip(found, found[1:], suns, strict=False):
        assert (before[1], after[0]) == (sun.sunrise, sun.sunset)
    assert (found[0][0], found[-1][1]) == (start, end)


def test_near_the_pole_a_night_lasts_and_a_day_lasts() -> None:
    winter, summer = (dt.datetime(2026, month, 20, tzinfo=dt.UTC) for month in (1, 6))
    pole = Rink(latitude=89.0, longitude=0.0)
    utc = ZoneInfo("UTC")
    assert nights(pole, winter, winter + DAY, utc) == [(winter, winter + DAY)]
    assert nights(pole, summer, summer + DAY, utc) == []
    assert sun_days(pole, winter.date(), winter.date(), utc)[0].is_dark
    assert nights(Rink(), winter, winter + DAY, utc) == []


@pytest.mark.parametrize(
    ("air_c", "wind_kmh", "chill", "danger"),
    [
        # Cells of Environment and Climate Change Canada's chart and its classes of frostbite; the last three from memory.
        (0, 15, -4, "low"),
        (-10, 20, -18, "low"),
        (-20, 30, -33, "10-30 min"),
        (-30, 10, -39, "10-30 min"),
        (-15, 60, -30, "10-30 min"),
        (-25, 50, -42, "5-10 min"),
        (-35, 20, -49, "2-5 min"),
        (-40, 50, -63, "under 2 min"),
    ],
)
def test_wind_chill_and_frostbite_are_those_of_the_published_table(
    air_c: float, wind_kmh: float, chill: int, danger: str
) -> None:
    hour = Hour(at=NOW, air_c=air_c, wind_ms=wind_kmh / 3.6)
    felt = chill_c(hour)
    assert felt is not None
    assert round(felt) == chill
    assert frostbite_class(hour) == danger


def test_where_the_formula_does_not_hold_no_chill_is_made_up() -> None:
    for air_c, wind_ms in ((11.0, 5.0), (-10.0, 1.0), (None, 5.0), (-10.0, None)):
        assert chill_c(Hour(at=NOW, air_c=air_c, wind_ms=wind_ms)) is None
    assert frostbite_class(Hour(at=NOW, air_c=-30.0)) == "10-30 min"  # calm: by the air itself


def test_the_table_and_the_file_hold_the_stored_hours(cast: Cast, cleo: Client) -> None:
    a_week_of_weather(cast)
    page = page_of(cleo, cast)
    rows = re.findall(r'<tr[^>]*><th scope="row">(\d\d:\d\d).*?</tr>', page, flags=re.DOTALL)
    known = known_hours(cast.rink, START, START + 6 * DAY)
    assert len(rows) == len(known) == 6 * 24 - 5
    assert rows == [f"{one.hour.at.astimezone(OSLO):%H:%M}" for one in known]
    shown = re.findall(r'</th><td class="num">(-?[\d.]+) °C</td>', page)
    expected = [an_hour(n).air_c for n in range(6 * 24) if not 15 <= n < 20]
    assert [float(air) for air in shown] == expected
    answer = cleo.get(f"/r/{cast.rink.slug}/weather/hours.csv")
    table = list(csv.DictReader(io.StringIO(answer.content.decode())))
    assert [float(row["air_c"]) for row in table] == expected
    assert [float(row["gust_ms"]) for row in table] == [
        an_hour(n).gust_ms for n in range(6 * 24) if not 15 <= n < 20
    ]
    assert {row["observed"] for row in table if row["time"] > NOW.isoformat()} == {"0"}


def test_a_gap_is_a_gap_in_the_line_and_foretold_hours_are_drawn_apart(cast: Cast, cleo: Client) -> None:
    a_week_of_weather(cast)
    page = page_of(cleo, cast)
    seen, told = (
        re.search(rf'<path class="{name}" d="([^"]*)"/>', page[page.index("<desc") :])[1]  # type: ignore[index]
        for name in ("w-air", "w-air w-told")
    )
    assert seen.count("M") == 2  # before and after the five hours that nobody saw
    # Observed are the hours 0 to 14 and 20 to 69; 14 + 49 strokes. The rest, 143 - 69, is foretold.
    assert seen.count("L") == 14 + 49
    assert told.count("L") == 143 - 69


def test_at_89_degrees_north_the_page_has_its_picture_and_says_that_the_sun_stays_down(
    cast: Cast, cleo: Client
) -> None:
    a_week_of_weather(cast)
    Rink.objects.filter(id=cast.rink.id).update(latitude=89.0, longitude=10.0)
    page = page_of(cleo, cast)
    assert "<svg" in page
    assert "the sun stays down" in page


@pytest.mark.parametrize(
    ("known", "said"),
    [
        ({"wind_ms": 2.5, "gust_ms": 5.0}, "strongest wind 9 km/h, gusts 18 km/h. Every"),
        ({"wind_ms": 2.5}, "strongest wind 9 km/h. Every"),
        ({}, "Air from -4.0 °C to -4.0 °C. Every"),
    ],
)
def test_what_nobody_told_of_the_wind_is_not_called_calm(known: dict[str, float], said: str) -> None:
    hour = Hour(at=dt.datetime(2026, 1, 15, 20, tzinfo=dt.UTC), air_c=-4.0, **known)  # type: ignore[arg-type]
    assert said in summary([KnownHour(hour, True, "a person", hour.at)])


def test_everything_is_in_the_readers_units(cast: Cast, cleo: Client) -> None:
    a_week_of_weather(cast)
    cast.cleo.temperature_unit, cast.cleo.speed_unit, cast.cleo.depth_unit = "F", "mph", "in"
    cast.cleo.save()
    page = page_of(cleo, cast)
    assert "Air and dew point, °F" in page
    assert "Wind and gusts, mph" in page
    assert "Rain and snow an hour, in" in page
    assert "(32 °F)" in page
    assert "°C" not in page
    assert "km/h" not in page


@pytest.mark.parametrize(("hours_old", "warned"), [(11.9, False), (12.1, True), (30.0, True)])
def test_an_old_forecast_is_shown_with_its_age(
    cast: Cast, cleo: Client, hours_old: float, warned: bool
) -> None:
    made = NOW - hours_old * HOUR
    first = NOW.replace(minute=0)
    hours = [Hour(at=first + n * HOUR, air_c=-5.0) for n in range(48)]
    store_forecast(rink=cast.rink, provider="us-nws", forecast=Forecast(Parsed(hours), made), fetched_at=made)
    page = page_of(cleo, cast)
    assert (f"The newest forecast is {int(hours_old)} hours old" in page) == warned
    assert "-5.0 °C" in page


def test_a_service_that_does_not_answer_is_named(cast: Cast, cleo: Client) -> None:
    a_week_of_weather(cast)
    ProviderState.objects.create(
        rink=cast.rink, provider="met-norway", is_on=True, failures=3, problem="it answered with 403"
    )
    page = page_of(cleo, cast)
    assert (
        "MET Norway gave no good answer: it answered with 403. What it last gave is kept and shown." in page
    )
    assert '<svg class="weather-picture"' in page


def test_without_place_and_weather_the_page_says_what_is_missing(cast: Cast, cleo: Client) -> None:
    page = page_of(cleo, cast)
    assert "The rink has no position yet" in page
    assert "No weather is known for these days" in page
    assert "unknown: the rink has no position" in page
    assert '<svg class="weather-picture"' not in page


def test_the_days_around_one_of_the_past_can_be_asked_for(cast: Cast, cleo: Client) -> None:
    a_week_of_weather(cast)
    page = page_of(cleo, cast, "?day=2026-01-14")
    assert "Tue 13 Jan – Thu 15 Jan 2026" in page
    for nonsense in ("?day=tomorrow", "?day=0001-01-01", "?day=9999-12-31", "?span=ever"):
        assert "Tue 13 Jan – Sun 18 Jan 2026" in page_of(cleo, cast, nonsense)


def test_days_over_a_clock_change_have_their_own_length() -> None:
    shown = shown_days("2026-03-29", "", dt.date(2026, 1, 1), OSLO)
    assert [round((end - start) / HOUR) for _, start, end in shown.days] == [24, 23, 24]


def test_the_page_asks_few_queries_and_no_more_for_two_weeks(cast: Cast, cleo: Client) -> None:
    a_week_of_weather(cast)
    usual = queries_of(cleo, f"/r/{cast.rink.slug}/weather/")
    long = queries_of(cleo, f"/r/{cast.rink.slug}/weather/?span=long")
    assert usual == long <= 8
