"""Known hours into marched weather: gaps told, sun where none is given, pressure at the rink."""

import datetime as dt

import numpy as np
import pytest

from rinklog.ice.forcing import Place, clear_sky_wm2, prepare, weather_of
from rinklog.weather.hours import Hour
from rinklog.weather.known import KnownHour

START = dt.datetime(2026, 1, 9, 0, tzinfo=dt.UTC)
HOUR = dt.timedelta(hours=1)
PLACE = Place(50.0, 0.0)


def known(at: int, air_c: float = -5.0, **values: float | bool) -> KnownHour:
    """An observed hour."""
    return KnownHour(Hour(START + at * HOUR, air_c, **values), True, "station", START)  # type: ignore[arg-type]


@pytest.mark.parametrize(("missing", "said"), [(3, False), (4, True)])
def test_three_missing_hours_are_bridged_and_four_are_a_gap(missing: int, said: bool) -> None:
    hours = [known(0, -4.0), known(1 + missing, -8.0)]
    weather, gaps = weather_of(hours, PLACE)
    assert gaps == ([(START + HOUR, START + (1 + missing) * HOUR)] if said else [])
    np.testing.assert_allclose(weather.air_c, np.linspace(-4, -8, missing + 2))
    assert prepare(hours, PLACE).bridged.sum() == (missing if said else 0)


def test_rain_of_a_missing_hour_is_none() -> None:
    weather, _ = weather_of([known(0, precip_mm=2.0), known(3, precip_mm=1.0)], PLACE)
    assert np.asarray(weather.precip_kgm2).tolist() == [2.0, 0.0, 0.0, 1.0]


def test_hours_without_a_single_air_temperature_are_refused() -> None:
    with pytest.raises(ValueError, match="air temperature"):
        weather_of([KnownHour(Hour(START, None), True, "station", START)], PLACE)


def test_the_sun_of_a_clear_day_is_haurwitzs_and_cloud_dims_it() -> None:
    # pvlib, Haurwitz, 20 February 2024 at 50 N 0 E by the minute: 10.63 MJ/m² (reference table, 2 %).
    day = clear_sky_wm2(dt.datetime(2024, 2, 20, tzinfo=dt.UTC), 24, PLACE)
    assert day.sum() * 3600 / 1e6 == pytest.approx(10.63, rel=0.02)
    clear, dull = (
        np.asarray(weather_of([known(n, cloud_frac=cloud) for n in range(24)], PLACE)[0].sun_wm2).sum()
        for cloud in (0.0, 1.0)
    )
    assert dull / clear == pytest.approx(0.25)  # Kasten & Czeplak 1980: 1 - 0.75
    told = weather_of([known(12, shortwave_wm2=77.0)], PLACE)[0]
    assert np.asarray(told.sun_wm2).tolist() == [77.0]


def test_pressure_at_sea_level_is_brought_up_to_the_rink_where_its_height_is_known() -> None:
    # ICAO standard atmosphere: 89 874.6 Pa at 1 000 m, where the layer below is 11.75 °C warm on average.
    high = Place(50.0, 0.0, 1000.0)
    for told, wanted in (({}, 89_874.6), ({"pressure_is_station": True}, 101_325.0)):
        weather, _ = weather_of([known(0, 11.75, pressure_pa=101_325.0, **told)], high)
        assert np.asarray(weather.pressure_pa)[0] == pytest.approx(wanted, abs=15)
    assert np.asarray(weather_of([known(0, pressure_pa=101_000.0)], PLACE)[0].pressure_pa)[0] == 101_000.0


def test_humidity_follows_from_the_dew_point_where_only_that_is_given() -> None:
    # psychrometric tables over water: 0 °C with dew point -5 °C is 69 % (421.84/611.2 by Buck).
    weather, _ = weather_of([known(0, 0.0, dew_point_c=-5.0)], PLACE)
    assert np.asarray(weather.humidity_frac)[0] == pytest.approx(0.69, abs=0.002)
