"""Humid air: saturation over water and over ice, dew and frost point, wet bulb.

Weather services give relative humidity over LIQUID water even below 0 °C; so does every function here.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from rinklog.physics.constants import PRESSURE_PA, R_AIR_JKGK, VAPOUR_RATIO, ZERO_C_K
from rinklog.physics.validity import Num, bare, require

AIR_C = (-80.0, 60.0)
"""Range [°C] in which the Magnus curves are used here."""


def magnus_water_pa(temperature_c: Num) -> Num:
    """Saturation vapour pressure over water, unchecked, for marching loops (see saturation_water_pa)."""
    return cast(Num, 611.2 * np.exp(17.62 * temperature_c / (243.12 + temperature_c)))


def magnus_ice_pa(temperature_c: Num) -> Num:
    """Saturation vapour pressure over ice, unchecked, for marching loops (see saturation_ice_pa)."""
    return cast(Num, 611.2 * np.exp(22.46 * temperature_c / (272.62 + temperature_c)))


def saturation_water_pa(air_c: Num) -> Num:
    """Saturation vapour pressure over liquid (also supercooled) water.

    Arguments: air_c [°C]. Returns: [Pa]. Validity: -80..60 °C. Source: WMO No. 8 (2008), annex 4.B, Magnus
    form.
    """
    require("air_c", air_c, *AIR_C, "°C")
    return magnus_water_pa(air_c)


def saturation_ice_pa(air_c: Num) -> Num:
    """Saturation vapour pressure over ice.

    Arguments: air_c [°C]. Returns: [Pa]. Validity: -80..60 °C, meaningful up to 0. Source: WMO No. 8, annex
    4.B.
    """
    require("air_c", air_c, *AIR_C, "°C")
    return magnus_ice_pa(air_c)


def saturation_water_buck_pa(air_c: Num) -> Num:
    """Saturation vapour pressure over water by Buck.

    Arguments: air_c [°C]. Returns: [Pa]. Validity: -80..60 °C. Source: Buck 1996 (from memory,
    cross-checked).
    """
    require("air_c", air_c, *AIR_C, "°C")
    return cast(Num, 611.21 * np.exp((18.678 - air_c / 234.5) * air_c / (257.14 + air_c)))


def saturation_ice_buck_pa(air_c: Num) -> Num:
    """Saturation vapour pressure over ice by Buck.

    Arguments: air_c [°C]. Returns: [Pa]. Validity: -80..60 °C. Source: Buck 1996 (from memory,
    cross-checked).
    """
    require("air_c", air_c, *AIR_C, "°C")
    return cast(Num, 611.15 * np.exp((23.036 - air_c / 333.7) * air_c / (279.82 + air_c)))


def saturation_water_goff_gratch_pa(air_c: Num) -> Num:
    """Saturation vapour pressure over water by Goff and Gratch.

    Arguments: air_c [°C]. Returns: [Pa]. Validity: -80..60 °C. Source: Goff & Gratch 1946, as in Smithsonian
    tables.
    """
    require("air_c", air_c, *AIR_C, "°C")
    t_k = air_c + ZERO_C_K
    steam_k = 373.16
    ratio = steam_k / t_k
    log10_hpa = (
        -7.90298 * (ratio - 1)
        + 5.02808 * np.log10(ratio)
        - 1.3816e-7 * (10 ** (11.344 * (1 - 1 / ratio)) - 1)
        + 8.1328e-3 * (10 ** (-3.49149 * (ratio - 1)) - 1)
        + np.log10(1013.246)
    )
    return cast(Num, 100 * 10**log10_hpa)


def vapour_pa(air_c: Num, humidity_frac: Num) -> Num:
    """Vapour pressure of air whose relative humidity is given over liquid water.

    Arguments: air_c [°C], humidity_frac [0-1]. Returns: [Pa]. Validity: as saturation_water_pa. Source:
    definition.
    """
    require("humidity_frac", humidity_frac, 0, 1)
    return humidity_frac * saturation_water_pa(air_c)


def dew_point_c(vapour: Num) -> Num:
    """Temperature at which this vapour pressure saturates over water (also supercooled).

    Arguments: vapour [Pa]. Returns: [°C]. Validity: 0.01 to 20 000 Pa. Source: WMO No. 8, annex 4.B,
    inverted.
    """
    require("vapour_pa", vapour, 0.01, 20_000, "Pa")
    log = np.log(np.asarray(vapour) / 611.2)
    return cast(Num, 243.12 * log / (17.62 - log))


def frost_point_c(vapour: Num) -> Num:
    """Temperature at which this vapour pressure saturates over ice.

    Arguments: vapour [Pa]. Returns: [°C]. Validity: 0.01 to 20 000 Pa, meaningful up to 611 Pa. Source: WMO
    No. 8.
    """
    require("vapour_pa", vapour, 0.01, 20_000, "Pa")
    log = np.log(np.asarray(vapour) / 611.2)
    return cast(Num, 272.62 * log / (22.46 - log))


def _bulb_ratio(bulb_c: Num, air_c: Num, pressure_pa: Num, over_ice: bool) -> Num:
    """Mixing ratio [kg/kg] of air whose bulb reads bulb_c (ASHRAE 2017 ch. 1, eq. 33, 35)."""
    e = magnus_ice_pa(bulb_c) if over_ice else magnus_water_pa(bulb_c)
    ratio = VAPOUR_RATIO * e / (pressure_pa - e)
    if over_ice:
        return ((2830 - 0.24 * bulb_c) * ratio - 1.006 * (air_c - bulb_c)) / (
            2830 + 1.86 * air_c - 2.1 * bulb_c
        )
    return ((2501 - 2.326 * bulb_c) * ratio - 1.006 * (air_c - bulb_c)) / (
        2501 + 1.86 * air_c - 4.186 * bulb_c
    )


def _solve_bulb(air_c: Num, ratio: Num, pressure_pa: Num, over_ice: bool) -> Num:
    """Bisect for the bulb temperature; an ice bulb in air moist over water reads a little above the air."""
    low, high = np.asarray(air_c) - 60.0, np.asarray(air_c) + 3.0
    low, high = np.broadcast_arrays(low + 0 * ratio, high + 0 * ratio)
    for _ in range(40):
        middle = (low + high) / 2
        over = _bulb_ratio(middle, air_c, pressure_pa, over_ice) > ratio
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return cast(Num, (low + high) / 2)


def wet_bulb_c(air_c: Num, humidity_frac: Num, pressure_pa: Num = PRESSURE_PA) -> Num:
    """Thermodynamic wet bulb: over water at and above 0 °C, over ice below.

    Arguments: air_c [°C], humidity_frac over water [0-1], pressure_pa [Pa]. Returns: [°C]. Validity: -60..50
    °C, 30-110 kPa. Source: ASHRAE Fundamentals 2017 ch. 1 eq. 33 and 35 with WMO saturation curves.
    """
    require("air_c", air_c, -60, 50, "°C")
    require("pressure_pa", pressure_pa, 30_000, 110_000, "Pa")
    e = vapour_pa(air_c, humidity_frac)
    ratio = VAPOUR_RATIO * e / (pressure_pa - e)
    water = _solve_bulb(air_c, ratio, pressure_pa, over_ice=False)
    ice = _solve_bulb(air_c, ratio, pressure_pa, over_ice=True)
    return bare(np.where(np.asarray(water) >= 0, water, ice))


def wet_bulb_stull_c(air_c: Num, humidity_frac: Num) -> Num:
    """Wet bulb by Stull's fit at sea level; -1 to +0.65 K off, prefer wet_bulb_c below 0 °C.

    Arguments: air_c [°C], humidity_frac [0-1]. Returns: [°C]. Validity: -20..50 °C, 0.05-0.99.
    Source: Stull 2011, eq. 1.
    """
    require("air_c", air_c, -20, 50, "°C")
    require("humidity_frac", humidity_frac, 0.05, 0.99)
    rh = 100 * np.asarray(humidity_frac)
    return cast(
        Num,
        air_c * np.arctan(0.151977 * np.sqrt(rh + 8.313659))
        + np.arctan(air_c + rh)
        - np.arctan(rh - 1.676331)
        + 0.00391838 * rh**1.5 * np.arctan(0.023101 * rh)
        - 4.686035,
    )


def density_kgm3(air_c: Num, pressure_pa: Num = PRESSURE_PA) -> Num:
    """Density of dry air.

    Arguments: air_c [°C], pressure_pa [Pa]. Returns: [kg/m³]. Validity: above absolute zero. Source: ideal
    gas.
    """
    return pressure_pa / (R_AIR_JKGK * (air_c + ZERO_C_K))
