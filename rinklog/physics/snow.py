"""Snow: how it conducts, how dense it falls, how it settles, and what its weight does to floating ice."""

from __future__ import annotations

from typing import cast

import numpy as np

from rinklog.physics.constants import RHO_ICE_KGM3, RHO_WATER_KGM3
from rinklog.physics.validity import Num, bare, require

DENSITY_KGM3 = (10.0, 917.0)
"""Snow between the lightest fall and solid ice [kg/m³]."""


def conductivity_sturm_wmk(density_kgm3: Num) -> Num:
    """Effective conductivity of snow; the lowest of the three published fits at usual densities.

    Arguments: density_kgm3. Returns: [W/m/K]. Validity: 10-600 kg/m³. Source: Sturm et al. 1997, eq. 4.
    """
    require("density_kgm3", density_kgm3, 10, 600, "kg/m³")
    rho = np.asarray(density_kgm3, dtype=float)
    dense = 0.138 - 1.01e-3 * rho + 3.233e-6 * rho**2
    return bare(np.where(rho < 156, 0.023 + 2.34e-4 * rho, dense))


def conductivity_calonne_wmk(density_kgm3: Num) -> Num:
    """Effective conductivity of snow from tomographic images.

    Arguments: density_kgm3. Returns: [W/m/K]. Validity: 10-917 kg/m³. Source: Calonne et al. 2011.
    """
    require("density_kgm3", density_kgm3, *DENSITY_KGM3, "kg/m³")
    return 2.5e-6 * density_kgm3**2 - 1.23e-4 * density_kgm3 + 0.024


def conductivity_yen_wmk(density_kgm3: Num) -> Num:
    """Effective conductivity of snow by the older power law.

    Arguments: density_kgm3. Returns: [W/m/K]. Validity: 10-917 kg/m³. Source: Yen 1981 (from memory).
    """
    require("density_kgm3", density_kgm3, *DENSITY_KGM3, "kg/m³")
    return cast(Num, 2.22362 * (density_kgm3 / 1000) ** 1.885)


def new_hedstrom_pomeroy_kgm3(air_c: Num) -> Num:
    """Density of new snow.

    Arguments: air_c [°C]. Returns: [kg/m³]. Validity: -60..5 °C. Source: Hedstrom & Pomeroy 1998.
    """
    require("air_c", air_c, -60, 5, "°C")
    return cast(Num, 67.92 + 51.25 * np.exp(np.asarray(air_c) / 2.59))


def new_pahaut_kgm3(air_c: Num, wind_ms: Num = 0.0) -> Num:
    """Density of new snow, at least 50.

    Arguments: air_c [°C], wind_ms [m/s]. Returns: [kg/m³]. Validity: -60..5 °C. Source: Pahaut 1976 (from
    memory).
    """
    _check_fall(air_c, wind_ms)
    return cast(Num, np.maximum(50.0, 109 + 6 * np.asarray(air_c) + 26 * np.sqrt(wind_ms)))


def new_jordan_kgm3(air_c: Num, wind_ms: Num = 0.0) -> Num:
    """Density of new snow.

    Arguments: air_c [°C], wind_ms [m/s]. Returns: [kg/m³]. Validity: -60..2.5 °C. Source: Jordan et al. 1999.
    """
    require("air_c", air_c, -60, 2.5, "°C")
    _check_fall(air_c, wind_ms)
    wind = 0.008 * np.asarray(wind_ms) ** 1.7
    warm = np.maximum(5 - np.asarray(air_c), 1.0)
    mild = 500 * (1 - 0.951 * np.exp(-1.4 * warm**-1.15 - wind))
    cold = 500 * (1 - 0.904 * np.exp(-wind))
    return bare(np.where(np.asarray(air_c) > -13, mild, cold))


def new_lachapelle_kgm3(air_c: Num) -> Num:
    """Density of new snow, 50 at -15 °C and colder.

    Arguments: air_c [°C]. Returns: [kg/m³]. Validity: -60..5 °C. Source: LaChapelle, in Anderson 1976 (from
    memory).
    """
    require("air_c", air_c, -60, 5, "°C")
    return cast(Num, 50 + 1.7 * np.maximum(np.asarray(air_c) + 15, 0.0) ** 1.5)


def settled_kgm3(density_kgm3: Num, hours: Num, limit_kgm3: Num = 300.0, rate_per_h: float = 0.01) -> Num:
    """Density after settling toward a limit; snow already denser stays as it is.

    Arguments: density_kgm3, hours [h], limit_kgm3 (300 cold, 500 melting), rate_per_h. Returns: [kg/m³].
    Validity: hours not negative. Source: Verseghy 1991, CLASS (from memory).
    """
    gap = limit_kgm3 - (limit_kgm3 - np.asarray(density_kgm3)) * np.exp(-rate_per_h * np.asarray(hours))
    return cast(Num, np.maximum(density_kgm3, gap))


def critical_snow_m(
    ice_m: Num,
    density_kgm3: Num,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    rho_water_kgm3: float = RHO_WATER_KGM3,
) -> Num:
    """Least depth of snow that presses FLOATING ice under water; ice frozen to the liner cannot sink.

    Arguments: ice_m [m], density_kgm3 of the snow. Returns: [m]. Validity: floating ice. Source: Archimedes;
    Ashton.
    """
    _check_floating(ice_m, 0.0, density_kgm3)
    return ice_m * (rho_water_kgm3 - rho_ice_kgm3) / density_kgm3


def freeboard_m(
    ice_m: Num,
    snow_m: Num,
    density_kgm3: Num,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    rho_water_kgm3: float = RHO_WATER_KGM3,
) -> Num:
    """Height of the ice top above the water; negative when snow holds it under.

    Arguments: ice_m, snow_m [m], density_kgm3 of the snow. Returns: [m]. Validity: floating ice. Source:
    Archimedes.
    """
    _check_floating(ice_m, snow_m, density_kgm3)
    return ice_m - (rho_ice_kgm3 * ice_m + density_kgm3 * snow_m) / rho_water_kgm3


def slush_m(
    ice_m: Num,
    snow_m: Num,
    density_kgm3: Num,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    rho_water_kgm3: float = RHO_WATER_KGM3,
) -> Num:
    """Depth of flooded snow at equilibrium, no compaction, never more than the snow there is.

    Arguments: ice_m, snow_m [m], density_kgm3 of the snow. Returns: [m]. Validity: floating ice, snow lighter
    than ice. Source: Archimedes with saturated snow; compaction reduces it (Röthlisberger 1983).
    """
    _check_floating(ice_m, snow_m, density_kgm3)
    overload = rho_ice_kgm3 * ice_m + density_kgm3 * snow_m - rho_water_kgm3 * ice_m
    depth = overload * rho_ice_kgm3 / (rho_water_kgm3 * density_kgm3)
    return cast(Num, np.clip(depth, 0.0, snow_m))


def pore_water_kgm3(
    density_kgm3: Num, rho_ice_kgm3: float = RHO_ICE_KGM3, rho_water_kgm3: float = RHO_WATER_KGM3
) -> Num:
    """Water that fills the pores of a cubic metre of snow and has to freeze when it is flooded.

    Arguments: density_kgm3 of the dry snow. Returns: [kg/m³]. Validity: 10-917 kg/m³. Source: volume balance.
    """
    return freeze_fraction(density_kgm3, rho_ice_kgm3) * rho_water_kgm3


def freeze_fraction(density_kgm3: Num, rho_ice_kgm3: float = RHO_ICE_KGM3) -> Num:
    """Share of plain water's latent load that saturated snow holds, so it freezes so much faster.

    Arguments: density_kgm3 of the dry snow. Returns: [0-1]. Validity: 10-917 kg/m³. Source: volume balance.
    """
    require("density_kgm3", density_kgm3, 10, rho_ice_kgm3, "kg/m³")
    return 1 - density_kgm3 / rho_ice_kgm3


def _check_fall(air_c: Num, wind_ms: Num) -> None:
    require("air_c", air_c, -60, 5, "°C")
    require("wind_ms", wind_ms, 0, 60, "m/s")


def _check_floating(ice_m: Num, snow_m: Num, density_kgm3: Num) -> None:
    require("ice_m", ice_m, 0, 10, "m")
    require("snow_m", snow_m, 0, 10, "m")
    require("density_kgm3", density_kgm3, *DENSITY_KGM3, "kg/m³")
