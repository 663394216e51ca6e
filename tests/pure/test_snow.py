"""Snow against published fits; values computed from the stated formulas, some formulas from memory as marked."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rinklog.physics import snow


@pytest.mark.parametrize(
    ("density", "sturm", "calonne", "yen"), [(100, 0.0464, 0.0367, 0.028977), (300, 0.12597, 0.2121, 0.22984)]
)
def test_three_published_conductivities_of_snow(
    density: float, sturm: float, calonne: float, yen: float
) -> None:
    # Sturm et al. 1997 and Calonne et al. 2011 second hand, Yen 1981 from memory; tolerance 0.5 %.
    assert snow.conductivity_sturm_wmk(density) == pytest.approx(sturm, rel=5e-3)
    assert snow.conductivity_calonne_wmk(density) == pytest.approx(calonne, rel=5e-3)
    assert snow.conductivity_yen_wmk(density) == pytest.approx(yen, rel=5e-3)


@pytest.mark.parametrize(
    ("air_c", "wind", "expected"),
    [(-2, 0, (91.597, 97, 90.476, 129.68)), (-10, 5, (68.999, 107.14, 105.04, 69.007))],
)
def test_four_published_densities_of_new_snow(
    air_c: float, wind: float, expected: tuple[float, float, float, float]
) -> None:
    # Hedstrom & Pomeroy 1998 and Jordan et al. 1999 second hand; Pahaut 1976, LaChapelle from memory; 0.5 %.
    found = (
        snow.new_hedstrom_pomeroy_kgm3(air_c),
        snow.new_pahaut_kgm3(air_c, wind),
        snow.new_jordan_kgm3(air_c, wind),
        snow.new_lachapelle_kgm3(air_c),
    )
    assert found == pytest.approx(expected, rel=5e-3)


def test_snow_on_floating_ice() -> None:
    # Archimedes, computed with water 1000 and ice 917 kg/m³; tolerance 0.5 %.
    assert snow.critical_snow_m(0.20, 200) == pytest.approx(0.083, rel=5e-3)
    assert 1000 * snow.freeboard_m(0.20, 0.15, 200) == pytest.approx(-13.4, rel=5e-3)
    assert 1000 * snow.freeboard_m(0.15, 0.05, 150) == pytest.approx(4.95, rel=5e-3)
    assert 1000 * snow.slush_m(0.20, 0.20, 200) == pytest.approx(107.29, rel=5e-3)


def test_flooded_snow_holds_less_water_to_freeze() -> None:
    # Volume balance, computed: [kg/m³, fraction] of snow of 200 kg/m³.
    assert snow.pore_water_kgm3(200) == pytest.approx(781.9, rel=5e-3)
    assert snow.freeze_fraction(200) == pytest.approx(0.7819, rel=5e-3)


def test_cold_and_warm_ends_of_the_new_snow_formulas() -> None:
    # By hand from the formulas: LaChapelle is 50 below -15 °C, Pahaut never under 50.
    assert snow.new_lachapelle_kgm3(-30.0) == 50
    assert snow.new_pahaut_kgm3(-40.0, 0.0) == 50
    assert snow.new_jordan_kgm3(-13.0, 0.0) == pytest.approx(48.0)


@given(st.floats(0.02, 1), st.floats(0, 1), st.floats(50, 500))
def test_slush_appears_exactly_when_the_ice_is_under_water(ice: float, depth: float, density: float) -> None:
    under = snow.freeboard_m(ice, depth, density) < -1e-9
    assert (snow.slush_m(ice, depth, density) > 1e-9) == under or abs(depth - ice * 83 / density) < 1e-6


def test_snow_settles_toward_its_limit_and_never_loosens() -> None:
    # Verseghy 1991, from memory: after 1/rate hours the gap has fallen by 1/e.
    assert snow.settled_kgm3(100.0, 100.0) == pytest.approx(300 - 200 * np.exp(-1))
    assert snow.settled_kgm3(400.0, 50.0) == 400
