"""Melting: energy balances solved by hand or with scipy from the stated formulas."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from rinklog.physics import melt


def test_a_dark_cover_in_strong_sun_melts_and_in_deep_cold_does_not() -> None:
    # Energy balance, computed; 0.1 %. Both with a contact of 0.02.
    warm = melt.cover(400, 230, 15, -5, 0.05, 0.95, 0.02)
    cold = melt.cover(250, 200, 20, -12, 0.05, 0.95, 0.02)
    assert warm.cover_c == pytest.approx(3.219, rel=1e-3)
    assert warm.into_ice_wm2 == pytest.approx(160.95, rel=1e-3)
    assert 1000 * melt.melted_m(warm.into_ice_wm2, 3600) == pytest.approx(1.8952, rel=1e-3)
    assert cold.cover_c == pytest.approx(-1.5113, rel=1e-3)
    assert cold.into_ice_wm2 == pytest.approx(-75.566, rel=1e-3)
    assert melt.melted_m(cold.into_ice_wm2, 3600) == 0


@pytest.mark.parametrize(
    ("longwave", "exchange", "air_c", "threshold"), [(230, 15, -5, 165), (200, 20, -12, 368)]
)
def test_a_cover_melts_only_above_a_threshold_sun(
    longwave: float, exchange: float, air_c: float, threshold: float
) -> None:
    # The open values' own figures, about 165 and 368 W/m².
    assert melt.cover(threshold - 3, longwave, exchange, air_c).into_ice_wm2 < 0
    assert melt.cover(threshold + 3, longwave, exchange, air_c).into_ice_wm2 > 0


@given(st.floats(0, 1000), st.floats(100, 350), st.floats(2, 60), st.floats(-30, 15), st.floats(0.005, 0.2))
def test_the_covers_balance_agrees_with_scipy(
    sun: float, longwave: float, exchange: float, air_c: float, contact: float
) -> None:
    def balance(t: float) -> float:
        gain = 0.95 * sun + 0.95 * (longwave - 5.670374e-8 * (t + 273.15) ** 4)
        return gain + exchange * (air_c - t) - t / contact

    assert melt.cover(sun, longwave, exchange, air_c, 0.05, 0.95, contact).cover_c == pytest.approx(
        brentq(balance, -90, 200, xtol=1e-12), abs=1e-8
    )


def test_a_calm_sunny_day_near_four_degrees_melts_about_a_centimetre_in_two_to_three_hours() -> None:
    # Common practice, no source: order of magnitude under a dark cover.
    found = melt.cover(500, 250, 8, 4)
    assert 0.003 < melt.melted_m(found.into_ice_wm2, 2.5 * 3600) < 0.02


@pytest.mark.parametrize(
    ("water_c", "ice_c", "kilograms"), [(60, 0, 0.75405), (40, 0, 0.5027), (60, -5, 0.73113)]
)
def test_hot_water_melts_its_share(water_c: float, ice_c: float, kilograms: float) -> None:
    # Heat balance with 4190, 2090 J/kg/K and 333.4 kJ/kg; 0.3 %.
    assert melt.poured_kg(water_c, ice_c, 1.0) == pytest.approx(kilograms, rel=3e-3)


def test_hot_water_needs_more_cold_than_cold_water() -> None:
    # Computed: 584.8 and 354.35 kJ/kg, ratio 1.6503.
    hot, cold = melt.freeze_load_jkg(60), melt.freeze_load_jkg(5)
    assert (hot / 1000, cold / 1000, hot / cold) == pytest.approx((584.8, 354.35, 1.6503), rel=3e-3)


def test_the_same_water_on_a_square_foot_melts_a_pit_and_on_a_square_yard_does_not() -> None:
    # Common practice, no source; the arithmetic is energy per area: 8 l at 60 °C, nine times the depth.
    kilograms = melt.poured_kg(60, 0, 8.0)
    foot, yard = (1000 * kilograms / (917 * area) for area in (0.09290304, 0.83612736))
    assert foot == pytest.approx(9 * yard)
    assert foot > 50 > 10 > yard


def test_a_torch_and_its_propane() -> None:
    # Lower heating value 46.35 MJ/kg from memory, efficiency 0.3 an assumption; 0.3 %.
    assert melt.torch_kg(1.0) == pytest.approx(41.707, rel=3e-3)
    assert melt.torch_s(30_000, 10, 0.002) / 60 == pytest.approx(11.323, rel=3e-3)


def test_degree_days_melt_water_and_ice() -> None:
    # Hock 2003 factors from memory; arithmetic 5 x 4 = 20 mm of water, 21.81 mm of ice.
    water = melt.thaw_water_m(5, 4)
    assert 1000 * water == pytest.approx(20)
    assert 1000 * melt.ice_from_water_m(water) == pytest.approx(21.81, rel=1e-3)


@pytest.mark.parametrize(("flux", "seconds", "ice_mm"), [(100, 3600, 1.1775), (100, 86400, 28.26)])
def test_melt_by_a_steady_flux(flux: float, seconds: float, ice_mm: float) -> None:
    # Heat balance, computed.
    assert 1000 * melt.melted_m(flux, seconds) == pytest.approx(ice_mm, rel=1e-3)


def test_five_megajoules_a_day_all_absorbed() -> None:
    # Computed: 16.354 mm of ice.
    assert 1000 * melt.melted_m(5e6 / 86400, 86400) == pytest.approx(16.354, rel=1e-3)


def test_a_coefficient_of_twenty_melts_five_millimetres_of_water_a_degree_day() -> None:
    # Computed: h 20 W/m²/K is 5.183 mm of water per K and day.
    assert melt.melted_m(20, 86400) * 917 == pytest.approx(5.183, rel=1e-3)


def test_a_dark_puck_in_strong_sun_sinks_about_a_centimetre() -> None:
    # Common practice, no source: order of magnitude, 500 W/m² for two and a half hours all absorbed but 5 %.
    assert 0.005 < melt.melted_m(0.95 * 500, 2.5 * 3600) < 0.02


def test_a_dark_thing_the_size_of_a_puck_sinks_about_a_centimetre_in_the_sun_of_a_mild_day() -> None:
    # Common practice, no source: of the order of a centimetre in two to three hours of that sun near +4 °C. A small
    # thing lies close on the ice (0.02 m²K/W) and calm air takes little from it (10 W/m²/K).
    balance = melt.cover(450, 230, 10, 4, 0.05, 0.95, 0.02)
    sunk_mm = 1000 * melt.melted_m(balance.into_ice_wm2, 2.5 * 3600)
    assert 4 < sunk_mm < 20
    shaded = melt.cover(30, 230, 10, 4, 0.05, 0.95, 0.02)
    assert melt.melted_m(shaded.into_ice_wm2, 2.5 * 3600) < 0.001


def test_the_same_water_melts_a_pit_in_a_square_foot_and_nothing_like_it_in_a_square_yard() -> None:
    # Common practice, no source: energy per area. By hand: 10 kg at 60 °C melt 10 × 4.19 × 60 / 333.4 = 7.54 kg of ice;
    # over 1 ft² = 0.0929 m² that is 88.5 mm, over 1 yd² = 0.8361 m² 9.8 mm.
    melted_kg = melt.poured_kg(60, 0, 10)
    depths_mm = [1000 * melted_kg / 917 / area_m2 for area_m2 in (0.09290304, 0.83612736)]
    assert depths_mm == pytest.approx([88.5, 9.83], rel=0.005)
