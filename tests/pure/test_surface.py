"""The surface balance: long wave and turbulent exchange, open values computed from the stated formulas."""

from __future__ import annotations

import numpy as np
import pytest

from rinklog.physics import air, radiation, surface
from rinklog.physics.validity import OutOfRangeError


@pytest.mark.parametrize(
    ("celsius", "humidity", "brutsaert", "idso", "jackson", "clear", "cloudy"),
    [
        (-10, 0.7, 0.61797, 0.73574, 0.75795, 168.03, 181.34),
        (0, 0.8, 0.69796, 0.77059, 0.739, 220.32, 237.77),
    ],
)
def test_three_skies_and_their_long_wave(
    celsius: float,
    humidity: float,
    brutsaert: float,
    idso: float,
    jackson: float,
    clear: float,
    cloudy: float,
) -> None:
    # Brutsaert 1975, Idso 1981, Idso & Jackson 1969; tolerance 0.3 % and 0.5 %; cloud factor from memory.
    vapour = air.vapour_pa(celsius, humidity)
    assert radiation.emissivity_brutsaert(celsius, vapour) == pytest.approx(brutsaert, rel=3e-3)
    assert radiation.emissivity_idso(celsius, vapour) == pytest.approx(idso, rel=3e-3)
    assert radiation.emissivity_idso_jackson(celsius) == pytest.approx(jackson, rel=3e-3)
    assert radiation.longwave_down_wm2(celsius, vapour) == pytest.approx(clear, rel=5e-3)
    assert radiation.longwave_down_wm2(celsius, vapour, 0.6) == pytest.approx(cloudy, rel=5e-3)


@pytest.mark.parametrize(
    ("air_c", "wind", "humidity", "sensible", "latent"),
    [(-10, 4, 0.7, -80.886, -57.466), (2, 3, 0.8, 11.604, -4.6858)],
)
def test_turbulent_exchange_with_melting_ice(
    air_c: float, wind: float, humidity: float, sensible: float, latent: float
) -> None:
    # Bulk formulas with C 1.5e-3 and Ls 2.835e6; tolerance 0.5 %.
    assert surface.sensible_wm2(air_c, 0.0, wind, 1.5e-3) == pytest.approx(sensible, rel=5e-3)
    assert surface.latent_wm2(air_c, 0.0, wind, humidity, 1.5e-3) == pytest.approx(latent, rel=5e-3)


@pytest.mark.parametrize(("height", "roughness", "transfer"), [(2, 1e-3, 0.0027694), (10, 1e-4, 0.0012071)])
def test_the_neutral_transfer_coefficient(height: float, roughness: float, transfer: float) -> None:
    # Logarithmic profile with von Kármán's 0.4.
    assert surface.transfer_neutral(height, roughness) == pytest.approx(transfer, rel=1e-4)


def test_a_sky_is_never_brighter_than_black() -> None:
    assert radiation.longwave_down_wm2(30.0, 4000.0, 1.0) == pytest.approx(5.670374e-8 * 303.15**4)


def test_the_slope_of_emission_is_its_derivative() -> None:
    step = 1e-3
    rise = radiation.longwave_up_wm2(-5 + step) - radiation.longwave_up_wm2(-5 - step)
    assert radiation.longwave_slope_wm2k(-5.0) == pytest.approx(rise / (2 * step), rel=1e-6)


def test_zones_and_members_are_array_axes() -> None:
    air_c = np.linspace(-20, 5, 6).reshape(2, 3)
    whole = surface.latent_wm2(air_c, -3.0, 4.0, 0.7, 1.5e-3)
    one = surface.latent_wm2(float(air_c[1, 2]), -3.0, 4.0, 0.7, 1.5e-3)
    assert np.shape(whole) == (2, 3)
    assert np.asarray(whole)[1, 2] == pytest.approx(one)


def test_one_bad_zone_is_found_among_good_ones() -> None:
    with pytest.raises(OutOfRangeError, match="wind_ms is 61"):
        surface.sensible_wm2(np.zeros(3), 0.0, np.array([1.0, 61.0, 2.0]), 1.5e-3)
    with pytest.raises(OutOfRangeError, match="height_m"):
        surface.transfer_neutral(0.1, 0.09)


def test_sunlight_kept_after_albedo_and_shade() -> None:
    # By hand: 400 W/m² with half in shade on ice that reflects 0.4.
    assert radiation.sun_kept_wm2(400.0, 0.4, 0.5) == pytest.approx(120.0)
