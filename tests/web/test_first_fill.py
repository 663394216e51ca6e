"""The first fill's page: each input moves its number, and what is missing is said instead of guessed."""

import datetime as dt
import re

import pytest
from django.test import Client
from django.utils import timezone

from tests.support.cast import Cast
from tests.support.counting import queries_of
from tests.support.filling import basin, building, filled, forecast, hole

HOUR = dt.timedelta(hours=1)


@pytest.fixture
def ada(cast: Cast, client: Client) -> Client:
    client.force_login(cast.ada)
    return client


def page(client: Client, cast: Cast, query: str = "") -> str:
    """The page as one line of text with its tags."""
    answer = client.get(f"/r/{cast.rink.slug}/setup/first-fill/{query}")
    assert answer.status_code == 200
    return re.sub(r"\s+", " ", answer.content.decode())


def test_with_nothing_known_it_says_what_is_missing(ada: Client, cast: Cast) -> None:
    shown = page(ada, cast, "?carries=1")
    for sentence in (
        "No forecast is known, so nothing can be said",
        "The depth of some zones is not known",
        "depths, the rink's position or a forecast are missing",
        "There is no ice estimate yet, or no forecast.",
        "nobody watches the sky but you",
    ):
        assert sentence in shown.replace("&#x27;", "'"), sentence


def test_water_and_hours_of_hose_follow_from_depth_and_bucket(ada: Client, cast: Cast) -> None:
    basin(cast, depth_m=0.1, flow_ls=0.5)
    shown = page(ada, cast)
    # 786.27 m² · 0.1 m = 78.627 m³; at 0.5 l/s that is 157 254 s = 43.7 h.
    assert "78,627 l" in shown
    assert "43.7 h" in shown
    assert "load grows with the square" not in shown
    basin(cast, depth_m=0.55, flow_ls=1.0)
    shown = page(ada, cast)
    assert "432,446 l" in shown
    assert "load grows with the square of the depth" in shown


def test_a_cold_calm_dry_forecast_names_the_day_and_a_mild_one_does_not(ada: Client, cast: Cast) -> None:
    forecast(cast, timezone.now())
    shown = page(ada, cast)
    assert "long enough" in shown
    assert "Not in this forecast" not in shown
    assert "strongest" in shown
    forecast(cast, timezone.now() + dt.timedelta(minutes=1), air_c=-4.0)
    shown = page(ada, cast)
    assert "Not in this forecast" in shown
    # −4.0 all day: Montreal's "never above −4" holds, and the page says so beside the rink's own rule.
    assert "Montreal and Quebec municipal recreation guide" in shown
    assert "long enough" in shown


def test_the_rinks_own_rule_decides(ada: Client, cast: Cast) -> None:
    forecast(cast, timezone.now(), air_c=-4.0)
    ada.post(f"/r/{cast.rink.slug}/setup/rules/start_night_c/", {"value": "-3"})
    shown = page(ada, cast)
    assert "5 nights in a row below -3.0 °C" in shown
    assert "Not in this forecast" not in shown


def test_wind_snow_and_wet_days_are_told(ada: Client, cast: Cast) -> None:
    forecast(cast, timezone.now(), gust_ms=14.0, precip_mm=0.2)
    shown = page(ada, cast)
    assert "gusts up to 50 km/h; the limit is 36 km/h" in shown  # 14 and 10 m/s
    assert "up to 2.4 mm as water in 12 hours" in shown  # 12 · 0.2 mm
    assert "What falls into an open fill freezes as slush" in shown
    assert "None in this forecast." in shown


def test_the_first_day_it_carries_is_worked_out_when_asked_and_comes_earlier_in_deeper_cold(
    ada: Client, cast: Cast
) -> None:
    basin(cast)
    forecast(cast, timezone.now(), air_c=-9.0)
    assert "Half of the forecasts" not in page(ada, cast)
    shown = page(ada, cast, "?carries=1")
    assert "Half of the forecasts" in shown
    assert "Drill first" in shown
    forecast(cast, timezone.now() + dt.timedelta(minutes=1), air_c=4.0)
    assert "Not in half of the forecasts." in page(ada, cast, "?carries=1")


def test_a_leak_is_said_aloud_and_water_that_is_there_is_not_called_one(ada: Client, cast: Cast) -> None:
    now = timezone.now() - 3 * HOUR
    building(cast, now)
    filled(cast, now)
    # 20 mm of ice are 18.3 mm of water; with 82 mm beneath 100.3 mm are there: as much as went in.
    hole(cast, now + HOUR, clear_m=0.020, under_m=0.082)
    assert "Water in and water found agree" in page(ada, cast)
    # 48 mm beneath: 66.3 mm, a third is gone.
    hole(cast, now + 2 * HOUR, clear_m=0.020, under_m=0.048)
    hole(cast, now + 2 * HOUR, clear_m=0.020, under_m=0.048)
    shown = page(ada, cast)
    assert "A leak is suspected" in shown
    assert "keep people off until it is found" in shown


def test_a_hole_that_says_nothing_of_the_water_says_nothing_of_a_leak(ada: Client, cast: Cast) -> None:
    now = timezone.now() - 3 * HOUR
    building(cast, now)
    filled(cast, now)
    cast.work("drill-hole", now=now + HOUR, details={"clear_ice_m": 0.02})
    assert (
        "leak" not in page(ada, cast).split("<main")[1].split("</main>")[0].replace("tape it off", "").lower()
    )


def test_it_asks_the_same_number_of_queries_however_much_was_written(ada: Client, cast: Cast) -> None:
    basin(cast)
    now = timezone.now()
    forecast(cast, now)
    address = f"/r/{cast.rink.slug}/setup/first-fill/"
    building(cast, now)
    hole(cast, now - HOUR, clear_m=0.02, under_m=0.08)
    few = queries_of(ada, address)
    for _ in range(12):
        cast.flood(now=now)
        hole(cast, now, clear_m=0.02, under_m=0.08)
    assert queries_of(ada, address) <= few + 2
