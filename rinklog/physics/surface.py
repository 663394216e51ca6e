"""Turbulent exchange between the air and the ice: sensible and latent heat, positive to the surface."""

from __future__ import annotations

from typing import cast

import numpy as np

from rinklog.physics.air import density_kgm3, magnus_ice_pa, vapour_pa
from rinklog.physics.constants import C_AIR_JKGK, KARMAN, PRESSURE_PA, SUBLIMATION_JKG, VAPOUR_RATIO
from rinklog.physics.validity import Num, OutOfRangeError, require


def transfer_neutral(height_m: Num, roughness_m: Num, karman: float = KARMAN) -> Num:
    """Transfer coefficient of a neutral layer; no stability correction.

    Arguments: height_m of the wind [m], roughness_m [m]. Returns: [1]. Validity: height above roughness,
    which is 1e-4 to 1e-3 m on ice. Source: logarithmic profile, (k / ln(z/z0))².
    """
    require("roughness_m", roughness_m, 1e-7, 1, "m")
    require("height_m", height_m, 0.1, 100, "m")
    if np.any(np.asarray(height_m) < 2 * np.asarray(roughness_m)):
        low = float(np.max(2 * np.asarray(roughness_m)))
        raise OutOfRangeError("height_m", float(np.min(height_m)), low, 100, "m")
    return cast(Num, (karman / np.log(np.asarray(height_m) / roughness_m)) ** 2)


def exchange_wm2k(
    wind_ms: Num, air_c: Num, transfer: Num, pressure_pa: Num = PRESSURE_PA, c_air_jkgk: float = C_AIR_JKGK
) -> Num:
    """Sensible heat per kelvin of difference between air and surface.

    Arguments: wind_ms [m/s], air_c [°C], transfer [1], pressure_pa [Pa]. Returns: [W/m²/K]. Validity: as
    sensible_wm2. Source: bulk formula.
    """
    return density_kgm3(air_c, pressure_pa) * c_air_jkgk * transfer * wind_ms


def sensible_wm2(
    air_c: Num,
    surface_c: Num,
    wind_ms: Num,
    transfer: Num,
    pressure_pa: Num = PRESSURE_PA,
    c_air_jkgk: float = C_AIR_JKGK,
) -> Num:
    """Sensible heat to the surface, rho_a c_p C u (Ta - Ts).

    Arguments: air_c, surface_c [°C], wind_ms [m/s], transfer [1], pressure_pa [Pa]. Returns: [W/m²].
    Validity: -60..50 °C, wind 0-60 m/s. Source: bulk formula, neutral air.
    """
    _check(air_c, surface_c, wind_ms, transfer)
    return exchange_wm2k(wind_ms, air_c, transfer, pressure_pa, c_air_jkgk) * (air_c - surface_c)


def latent_wm2(
    air_c: Num,
    surface_c: Num,
    wind_ms: Num,
    humidity_frac: Num,
    transfer: Num,
    pressure_pa: Num = PRESSURE_PA,
    latent_jkg: float = SUBLIMATION_JKG,
) -> Num:
    """Latent heat to the surface, rho_a L C u 0.622 (e_a - e_ice(Ts)) / p; negative when ice evaporates.

    Arguments: air_c, surface_c [°C], wind_ms [m/s], humidity_frac over water [0-1], transfer [1], pressure_pa
    [Pa], latent_jkg [J/kg]. Returns: [W/m²]. Validity: -60..50 °C, wind 0-60 m/s. Source: bulk formula,
    neutral air.
    """
    _check(air_c, surface_c, wind_ms, transfer)
    air_pa = vapour_pa(air_c, humidity_frac)
    factor = vapour_factor_wm2pa(wind_ms, air_c, transfer, pressure_pa, latent_jkg)
    return factor * (air_pa - magnus_ice_pa(surface_c))


def vapour_factor_wm2pa(
    wind_ms: Num,
    air_c: Num,
    transfer: Num,
    pressure_pa: Num = PRESSURE_PA,
    latent_jkg: float = SUBLIMATION_JKG,
) -> Num:
    """Latent heat per pascal of vapour difference, for marching loops.

    Arguments: wind_ms [m/s], air_c [°C], transfer [1], pressure_pa [Pa], latent_jkg [J/kg]. Returns:
    [W/m²/Pa]. Validity: unchecked. Source: bulk formula.
    """
    density = density_kgm3(air_c, pressure_pa)
    return density * latent_jkg * transfer * wind_ms * VAPOUR_RATIO / pressure_pa


def _check(air_c: Num, surface_c: Num, wind_ms: Num, transfer: Num) -> None:
    require("air_c", air_c, -60, 50, "°C")
    require("surface_c", surface_c, -60, 50, "°C")
    require("wind_ms", wind_ms, 0, 60, "m/s")
    require("transfer", transfer, 0, 0.1)
