"""The sun: NREL's worked example, FAO-56, and pvlib 0.16 (full NREL SPA) as oracle."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone

import numpy as np
import pandas as pd
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rinklog.physics import sun


def test_nrels_worked_example_comes_out() -> None:
    # Reda & Andreas 2004, NREL/TP-560-34302; second hand from several test suites, and pvlib.
    when = datetime(2003, 10, 17, 12, 30, 30, tzinfo=timezone(timedelta(hours=-7)))
    found = sun.position(when.timestamp(), 39.742476, -105.1786, 1830.14, 82_000, 11, 67)
    assert found.zenith_deg == pytest.approx(50.11162, abs=0.01)
    assert found.azimuth_deg == pytest.approx(194.34024, abs=0.01)


@pytest.mark.parametrize(
    ("latitude", "longitude", "altitude"), [(60, 10, 0), (-45, 170, 500), (45, -75, 1800), (85, 0, 0)]
)
def test_any_time_from_1990_to_2060_agrees_with_the_whole_algorithm(
    latitude: float, longitude: float, altitude: float
) -> None:
    times = pd.date_range("1990-01-01", "2060-01-01", periods=4001, tz="UTC")
    theirs = pvlib.solarposition.spa_python(
        times, latitude, longitude, altitude=altitude, pressure=101_325, temperature=0, delta_t=sun.DELTA_T_S
    )
    stamps = (times - pd.Timestamp(0, tz="UTC")).total_seconds().to_numpy()
    ours = sun.position(stamps, latitude, longitude, altitude)
    assert np.abs(ours.elevation_deg - theirs.elevation.to_numpy()).max() < 0.003
    turn = (ours.azimuth_deg - theirs.azimuth.to_numpy() + 180) % 360 - 180
    assert np.abs(turn[np.abs(theirs.elevation) < 80]).max() < 0.01
    clear_of_edge = np.abs(theirs.elevation.to_numpy() - sun.RISE_DEG) > 0.01
    zenith = ours.zenith_deg - theirs.apparent_zenith.to_numpy()
    assert np.abs(zenith[clear_of_edge]).max() < 0.01


@pytest.mark.parametrize(("zenith", "flux"), [(60, 487.89), (75, 226.25)])
def test_haurwitz_clear_sky_at_two_heights(zenith: float, flux: float) -> None:
    # Haurwitz 1945 with pvlib's coefficients, computed; tolerance 0.5 %.
    assert sun.haurwitz_wm2(zenith) == pytest.approx(flux, rel=5e-3)


def test_haurwitz_agrees_with_pvlib_everywhere() -> None:
    zenith = np.linspace(0, 180, 361)
    theirs = pvlib.clearsky.haurwitz(pd.Series(zenith))["ghi"].to_numpy()
    assert np.asarray(sun.haurwitz_wm2(zenith)) == pytest.approx(theirs, abs=1e-6)


@pytest.mark.parametrize(("latitude", "day", "energy"), [(-20, 246, 32.194), (50, 15, 8.8891)])
def test_the_sun_above_the_air(latitude: float, day: int, energy: float) -> None:
    # FAO-56 eq. 21; its own example for 20° S on day 246 is 32.2 MJ/m²/d.
    assert sun.extraterrestrial_mjm2d(latitude, day) == pytest.approx(energy, rel=5e-3)


CLEAR_DAYS = [
    ((2023, 12, 21), 45, 21.56, 8.77, 6.5, 10.45, 0.02),
    ((2023, 12, 21), 60, 6.56, 5.87, 0.87, 2.12, 0.06),
    ((2024, 1, 21), 55, 15.05, 8.08, 3.88, 6.77, 0.02),
    ((2024, 2, 20), 50, 29.0, 10.39, 10.63, 16.09, 0.02),
    ((2024, 3, 20), 60, 30.15, 12.25, 12.84, 19.06, 0.02),
]


@pytest.mark.parametrize(("ymd", "latitude", "noon", "length", "haurwitz", "above", "tolerance"), CLEAR_DAYS)
def test_a_clear_day_at_longitude_zero(
    ymd: tuple[int, int, int],
    latitude: float,
    noon: float,
    length: float,
    haurwitz: float,
    above: float,
    tolerance: float,
) -> None:
    # pvlib 1-minute integration: noon 0.1°, day length 0.05 h, Haurwitz 2 % (6 % at 60 N in December).
    start = datetime(*ymd, tzinfo=UTC)
    stamps = start.timestamp() + 60.0 * np.arange(1440)
    place = sun.position(stamps, latitude, 0.0)
    assert np.max(place.elevation_deg) == pytest.approx(noon, abs=0.1)
    assert sun.daylight(start, latitude, 0.0).day_length_h == pytest.approx(length, abs=0.05)
    energy = np.sum(sun.haurwitz_wm2(place.zenith_deg)) * 60 / 1e6
    assert energy == pytest.approx(haurwitz, rel=tolerance)
    day = start.timetuple().tm_yday
    assert sun.extraterrestrial_mjm2d(latitude, day) == pytest.approx(above, rel=0.03)
    near = 1366.1 * (1 + 0.033 * np.cos(2 * np.pi * day / 365))
    beyond = np.sum(np.maximum(np.sin(np.radians(place.elevation_deg)), 0)) * 60 * near / 1e6
    assert beyond == pytest.approx(above, rel=0.01)


@pytest.mark.parametrize(
    ("latitude", "longitude", "when", "rise", "fall"),
    [
        (45.42, -75.70, "2024-01-15T12:00:00-05:00", "2024-01-15T12:39", "2024-01-15T21:45"),
        (59.91, 10.75, "2024-02-10T08:00:00+01:00", "2024-02-10T07:09", "2024-02-10T15:54"),
    ],
)
def test_sunrise_and_sunset_in_two_towns(
    latitude: float, longitude: float, when: str, rise: str, fall: str
) -> None:
    # astral within 35 s of these; tolerance 2 min.
    day = sun.daylight(datetime.fromisoformat(when), latitude, longitude)
    for found, stated in ((day.sunrise, rise), (day.sunset, fall)):
        assert found is not None
        assert abs(found - datetime.fromisoformat(stated + ":00+00:00")) <= timedelta(minutes=2)


@settings(max_examples=25, deadline=None)
@given(
    st.floats(-60, 60),
    st.floats(-179, 179),
    st.dates(date(1995, 1, 1), date(2050, 1, 1)),
)
def test_rise_and_set_agree_with_pvlib_in_both_halves_of_the_world(
    latitude: float, longitude: float, day: date
) -> None:
    zone = timezone(timedelta(hours=round(longitude / 15)))
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=zone)
    days = pd.DatetimeIndex([noon + timedelta(days=shift) for shift in (-1, 0, 1)])
    theirs = pvlib.solarposition.sun_rise_set_transit_spa(days, latitude, longitude)
    ours = sun.daylight(noon, latitude, longitude)
    assert ours.sunrise is not None
    assert ours.sunset is not None
    for mine, column in ((ours.sunrise, "sunrise"), (ours.sunset, "sunset")):
        gaps = [(mine - t.floor("s").to_pydatetime()).total_seconds() for t in theirs[column]]
        # pvlib works by UTC date and then relabels the day, so the day before or after may be the one it means.
        assert min(abs((gap + 43200) % 86400 - 43200) for gap in gaps) < 30


def test_polar_night_and_polar_day_have_no_rise() -> None:
    night = sun.daylight(datetime(2024, 12, 21, 12, tzinfo=UTC), 75, 20)
    day = sun.daylight(datetime(2024, 6, 21, 12, tzinfo=UTC), 75, 20)
    assert (night.sunrise, night.sunset, night.day_length_h) == (None, None, 0.0)
    assert (day.sunrise, day.sunset, day.day_length_h) == (None, None, 24.0)


def test_a_time_without_offset_is_refused() -> None:
    with pytest.raises(ValueError, match="offset"):
        sun.daylight(datetime(2024, 1, 1), 45, 0)
