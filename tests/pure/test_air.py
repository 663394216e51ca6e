"""Humid air against IAPWS, ASHRAE (psychrolib), metpy and published examples."""

from __future__ import annotations

import math

import metpy.calc
import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from metpy.units import units as mp

from rinklog.physics import air
from rinklog.physics.validity import OutOfRangeError

psychrolib.SetUnitSystem(psychrolib.SI)


def test_saturation_agrees_with_iapws() -> None:
    # IAPWS, computed, tolerance 0.3 %.
    assert air.saturation_ice_pa(0.0) == pytest.approx(611.15, rel=3e-3)
    assert air.saturation_ice_pa(-10.0) == pytest.approx(259.87, rel=3e-3)
    assert air.saturation_water_pa(5.0) == pytest.approx(872.57, rel=3e-3)
    assert air.saturation_water_pa(20.0) == pytest.approx(2339.2, rel=3e-3)


@pytest.mark.parametrize("celsius", [-40, -20, -5, -0.1])
def test_saturation_over_ice_agrees_with_ashrae(celsius: float) -> None:
    assert air.saturation_ice_pa(celsius) == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=3e-3)


@pytest.mark.parametrize(
    ("celsius", "magnus", "buck", "goff"), [(-10, 287.03, 286.56, 286.04), (-5, 422.18, 421.84, 421.17)]
)
def test_three_curves_over_supercooled_water(celsius: float, magnus: float, buck: float, goff: float) -> None:
    # Formulas from memory, cross-checked by computing; tolerance 0.05 %.
    assert air.saturation_water_pa(celsius) == pytest.approx(magnus, rel=5e-4)
    assert air.saturation_water_buck_pa(celsius) == pytest.approx(buck, rel=5e-4)
    assert air.saturation_water_goff_gratch_pa(celsius) == pytest.approx(goff, rel=5e-4)


def test_buck_over_ice_agrees_with_iapws() -> None:
    assert air.saturation_ice_buck_pa(-10.0) == pytest.approx(259.87, rel=3e-3)


@pytest.mark.parametrize(("celsius", "humidity", "bulb"), [(20, 0.5, 13.699), (5, 0.5, 0.80189)])
def test_stulls_wet_bulb_comes_out(celsius: float, humidity: float, bulb: float) -> None:
    # Stull 2011; the paper's own example is 13.7 for 20 °C and 50 %.
    assert air.wet_bulb_stull_c(celsius, humidity) == pytest.approx(bulb, abs=0.01)


@pytest.mark.parametrize(("celsius", "humidity", "bulb"), [(20, 0.5, 13.783), (5, 0.5, 1.3542)])
def test_the_psychrometric_wet_bulb(celsius: float, humidity: float, bulb: float) -> None:
    # Literals from psychrolib 2.5.0; metpy 1.7.1 gives 13.66 and 1.32.
    ours = float(air.wet_bulb_c(celsius, humidity))
    assert ours == pytest.approx(bulb, abs=0.15)
    other = metpy.calc.wet_bulb_temperature(
        101325 * mp.Pa,
        celsius * mp.degC,
        metpy.calc.dewpoint_from_relative_humidity(celsius * mp.degC, humidity),
    )
    assert ours == pytest.approx(other.to("degC").magnitude, abs=0.25)


@given(st.floats(-30, 35), st.floats(0.2, 1.0), st.floats(70_000, 105_000))
def test_the_wet_bulb_agrees_with_psychrolib_over_ice_too(
    celsius: float, humidity: float, pressure: float
) -> None:
    # psychrolib takes humidity over ice below 0 °C, so it is given the same vapour.
    vapour = float(air.vapour_pa(celsius, humidity))
    theirs = vapour / psychrolib.GetSatVapPres(celsius)
    if theirs > 1:
        return
    expected = psychrolib.GetTWetBulbFromRelHum(celsius, theirs, pressure)
    if abs(expected) < 0.5:  # at the change from ice to water bulb two answers are right
        return
    assert float(air.wet_bulb_c(celsius, humidity, pressure)) == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize(
    ("celsius", "humidity", "dew", "frost"), [(5, 0.5, -4.577, -4.0427), (-10, 0.6, -16.305, -14.554)]
)
def test_dew_and_frost_point_of_humidity_over_water(
    celsius: float, humidity: float, dew: float, frost: float
) -> None:
    # Computed from the WMO curves; tolerance 0.05 K.
    vapour = air.vapour_pa(celsius, humidity)
    assert air.dew_point_c(vapour) == pytest.approx(dew, abs=0.05)
    assert air.frost_point_c(vapour) == pytest.approx(frost, abs=0.05)


@given(st.floats(-60, 50), st.floats(0.01, 1.0))
def test_the_dew_point_saturates_the_same_vapour(celsius: float, humidity: float) -> None:
    vapour = air.vapour_pa(celsius, humidity)
    assert air.magnus_water_pa(air.dew_point_c(vapour)) == pytest.approx(vapour, rel=1e-9)
    assert air.magnus_ice_pa(air.frost_point_c(vapour)) == pytest.approx(vapour, rel=1e-9)


@pytest.mark.parametrize(("celsius", "humidity"), [(math.nan, 0.5), (0.0, 1.01), (-81.0, 0.5), (0.0, -0.1)])
def test_impossible_air_is_refused(celsius: float, humidity: float) -> None:
    with pytest.raises(OutOfRangeError):
        air.vapour_pa(celsius, humidity)
