"""What the engine is asked beside floods, against limits and closed forms."""

import datetime as dt
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from rinklog.advice.asks import dry_after_h, pick, resampled, snow_loss, tarp_day
from rinklog.advice.evening import chill_c, evening
from rinklog.advice.situation import HourAhead
from rinklog.physics.column import Column, Settings, Weather
from tests.advice.scene import NOW, hours, scene

SETTINGS = Settings()
OSLO = ZoneInfo("Europe/Oslo")


def steady(air_c: float, count: int = 24, **more: float) -> Weather:
    return Weather(hold_s=np.full(count, 3600.0), air_c=np.full(count, air_c), **more)


def test_snow_costs_freezing_only_where_there_is_water_to_freeze() -> None:
    floating = Column.start(SETTINGS, 1, ice_m=0.05, water_m=0.3, snow_m=0.05, snow_kgm3=120.0)
    loss = snow_loss(floating, steady(-10), SETTINGS, NOW, 24)
    assert loss is not None
    assert loss.until == NOW + dt.timedelta(hours=24)
    assert 0 < loss.snowed_m < loss.bare_m
    assert loss.hours == pytest.approx(24 * (1 - loss.snowed_m / loss.bare_m))
    through = Column.start(SETTINGS, 1, ice_m=0.10, ice_c=-5, snow_m=0.05)
    assert snow_loss(through, steady(-10), SETTINGS, NOW, 24) is None


def test_the_loss_is_about_that_of_the_closed_form() -> None:
    # Ashton 1989, air at the surface: growth² + 2·film·growth = 2k·dT·t/(ρL); film k(1/H + s/ks). Same H, ks for both.
    plain = Settings(surface="air", exchange_wm2k=20.0, snow_k_wmk=0.1)
    # 15 mm at 250 kg/m³: less than the 16.6 mm that 5 cm of ice carry, so no snow ice
    floating = Column.start(plain, 1, ice_m=0.05, water_m=0.3, snow_m=0.015)
    loss = snow_loss(floating, steady(-10), plain, NOW, 24)
    k, heat = 2.22, 2 * 2.22 * 10 * 86400 / (917 * 333_400)

    def grown(film_m: float) -> float:
        return float(np.sqrt((0.05 + film_m) ** 2 + heat) - 0.05 - film_m)

    assert loss is not None
    assert loss.bare_m == pytest.approx(grown(k / 20), rel=0.06)
    assert loss.snowed_m == pytest.approx(grown(k * (1 / 20 + 0.015 / 0.1)), rel=0.12)


def test_a_cover_is_laid_tomorrow_in_the_sun_and_in_daylight_only() -> None:
    first = dt.datetime(2026, 3, 1, 17, tzinfo=dt.UTC)  # 18:00 in Oslo; tomorrow's noon is 17 hours on
    count = 36
    clock = (np.arange(count) + 18) % 24
    sun = np.where((clock >= 8) & (clock < 17), 450.0, 0.0)
    weather = Weather(
        hold_s=np.full(count, 3600.0), air_c=np.full(count, -2.0), sun_wm2=sun, wind_ms=1.0, cloud_frac=0.0
    )
    slab = Column.start(SETTINGS, 1, ice_m=0.1, ice_c=-1.0)
    day = tarp_day(slab, weather, SETTINGS, first, OSLO)
    assert day is not None
    assert day.lay_at.astimezone(OSLO).date() == dt.date(2026, 3, 2)
    assert 8 <= day.lay_at.astimezone(OSLO).hour < 14
    assert day.lay_at < day.lift_at <= dt.datetime(2026, 3, 2, 17, tzinfo=dt.UTC)
    assert day.melt_m > 0.001
    dark = Weather(hold_s=np.full(count, 3600.0), air_c=np.full(count, -8.0), wind_ms=3.0, cloud_frac=0.0)
    assert tarp_day(slab, dark, SETTINGS, first, OSLO) is None


def test_a_wet_coat_is_dry_after_the_hours_of_the_closed_form() -> None:
    # 4.58 mm, 10 K, H 20: 2.17 h; looked at each full hour
    air = Settings(surface="air", exchange_wm2k=20.0)
    wet = Column.start(air, 1, ice_m=0.1, coat_m=0.00458)
    assert dry_after_h(wet, steady(-10), air)[0] == 3.0
    assert np.isinf(dry_after_h(wet, steady(2), air)[0])


def test_members_are_drawn_by_their_weight() -> None:
    assert resampled(np.array([0.5, 0.0, 0.25, 0.25]), 4) == [0, 0, 2, 3]
    columns = Column.start(SETTINGS, 3, ice_m=np.array([0.1, 0.2, 0.3]))
    assert pick(columns, [2, 2, 0]).mass_kgm2 == pytest.approx(np.array([0.3, 0.3, 0.1]) * 917)


def test_the_evening_is_as_cold_as_its_worst_hour_feels() -> None:
    # −20 °C and 30 km/h feel like −33 (Environment and Climate Change Canada's chart): 10 to 30 minutes
    worst = HourAhead(NOW + dt.timedelta(hours=2), -20.0, wind_ms=30 / 3.6)
    told = evening(scene(hours=(*hours(-15.0, wind_ms=2.0)[:2], worst)))
    assert told is not None
    assert round(told["chill_c"]) == -33
    assert told["frostbite"] == "10-30 min"
    assert chill_c(HourAhead(NOW, -20.0, wind_ms=1.0)) == -20.0  # too little wind for the formula
    assert evening(scene(hours=())) is None
