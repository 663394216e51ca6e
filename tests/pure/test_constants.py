"""Default constants against IAPWS: iapws 1.5.5 as oracle and its published numbers as literals."""

from __future__ import annotations

import pytest
from iapws import IAPWS95
from iapws._iapws import _Ice

from rinklog.physics import constants as c


def test_ice_constants_agree_with_iapws_r10_06() -> None:
    ice = _Ice(273.15, 0.101325)
    assert ice["rho"] == pytest.approx(916.72, rel=1e-3)
    assert pytest.approx(ice["rho"], rel=1e-3) == c.RHO_ICE_KGM3
    assert pytest.approx(1000 * ice["cp"], rel=4e-3) == c.C_ICE_JKGK
    assert _Ice(253.15, 0.101325)["rho"] == pytest.approx(919.57, rel=1e-3)


def test_water_constants_agree_with_iapws_95() -> None:
    water = IAPWS95(T=273.16, P=0.101325)
    assert pytest.approx(water.rho, rel=1e-3) == c.RHO_WATER_KGM3
    assert pytest.approx(water.k, rel=1e-2) == c.K_WATER_WMK
    assert pytest.approx(1000 * water.cp, rel=8e-3) == c.C_WATER_JKGK


def test_latent_heats_are_the_published_ones() -> None:
    # IAPWS via iapws and gsw: fusion 333.43, vaporisation 2500.9, sublimation 2834.4 kJ/kg at 0 °C.
    assert pytest.approx(333_430, rel=1e-3) == c.LATENT_JKG
    assert pytest.approx(2_500_900, rel=1e-3) == c.EVAPORATION_JKG
    assert pytest.approx(2_834_400, rel=1e-3) == c.SUBLIMATION_JKG


def test_water_grows_by_a_eleventh_on_freezing() -> None:
    # 999.84 / 916.72 = 1.0907 (IAPWS).
    assert pytest.approx(1.0907, rel=1e-3) == c.RHO_WATER_KGM3 / c.RHO_ICE_KGM3


def test_ice_conductivity_lies_within_the_published_disagreement() -> None:
    # At 0 °C: CRC Handbook 2.14, FAO ice manual 2.22, Cuffey & Paterson 2.07 (second hand), another 2.24.
    assert 2.07 <= c.K_ICE_WMK <= 2.24
