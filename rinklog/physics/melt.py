"""How ice melts: under a dark cover, from poured water, from a torch, and by mild days."""

from __future__ import annotations

from typing import NamedTuple, cast

import numpy as np

from rinklog.physics.constants import (
    C_ICE_JKGK,
    C_WATER_JKGK,
    EMISSIVITY_COVER,
    LATENT_JKG,
    RHO_ICE_KGM3,
    RHO_WATER_KGM3,
    SIGMA_WM2K4,
    ZERO_C_K,
)
from rinklog.physics.validity import Num, require

PROPANE_JKG = 46.35e6
"""Lower heating value of propane [J/kg], from memory; found printed: 45.99e6."""
TORCH_EFFICIENCY = 0.3
"""Share of a torch's heat that reaches the ice [1]: 0.2-0.4, an assumption."""
CONTACT_M2KW = 0.04
"""Thermal resistance of 1 mm of still air under a cover [m²K/W], from memory."""


class CoverMelt(NamedTuple):
    """Temperature of the cover [°C] and heat into the ice, negative when the cover cools it [W/m²]."""

    cover_c: Num
    into_ice_wm2: Num


def cover(
    sun_wm2: Num,
    longwave_down_wm2: Num,
    exchange_wm2k: Num,
    air_c: Num,
    albedo: Num = 0.05,
    emissivity: Num = EMISSIVITY_COVER,
    contact_m2kw: Num = CONTACT_M2KW,
    sigma: float = SIGMA_WM2K4,
) -> CoverMelt:
    """Balance of a dark cover lying on ice at 0 °C.

    Arguments: sun_wm2, longwave_down_wm2 [W/m²], exchange_wm2k [W/m²/K], air_c [°C], albedo, emissivity
    [0-1], contact_m2kw [m²K/W]. Returns: CoverMelt. Validity: steady state. Source: energy balance, solved by
    Newton.
    """
    require("sun_wm2", sun_wm2, 0, 1500, "W/m²")
    require("longwave_down_wm2", longwave_down_wm2, 0, 700, "W/m²")
    require("exchange_wm2k", exchange_wm2k, 1, 1000, "W/m²/K")
    require("air_c", air_c, -60, 50, "°C")
    require("albedo", albedo, 0, 1)
    require("emissivity", emissivity, 0, 1)
    require("contact_m2kw", contact_m2kw, 1e-4, 10, "m²K/W")
    gain = (1 - np.asarray(albedo)) * sun_wm2 + np.asarray(emissivity) * longwave_down_wm2
    cover_c = np.zeros_like(gain + np.asarray(exchange_wm2k) * air_c + contact_m2kw)
    for _ in range(50):
        kelvin = cover_c + ZERO_C_K
        balance = gain - emissivity * sigma * kelvin**4 + exchange_wm2k * (air_c - cover_c)
        slope = 4 * emissivity * sigma * kelvin**3 + exchange_wm2k + 1 / np.asarray(contact_m2kw)
        step = (balance - cover_c / contact_m2kw) / slope
        cover_c = cover_c + step
        if np.all(np.abs(step) < 1e-12):
            break
    return CoverMelt(cast(Num, cover_c), cast(Num, cover_c / contact_m2kw))


def melted_m(
    flux_wm2: Num, seconds: Num, rho_ice_kgm3: float = RHO_ICE_KGM3, latent_jkg: float = LATENT_JKG
) -> Num:
    """Ice melted by a flux into ice at 0 °C; a flux out of it melts none.

    Arguments: flux_wm2 [W/m²], seconds [s], constants. Returns: [m of ice]. Validity: ice at 0 °C. Source:
    heat balance.
    """
    require("seconds", seconds, 0, 4e8, "s")
    return cast(Num, np.maximum(flux_wm2, 0.0) * seconds / (rho_ice_kgm3 * latent_jkg))


def poured_kg(
    water_c: Num,
    ice_c: Num,
    water_kg: Num,
    c_water_jkgk: float = C_WATER_JKGK,
    c_ice_jkgk: float = C_ICE_JKGK,
    latent_jkg: float = LATENT_JKG,
) -> Num:
    """Ice melted by water that cools to 0 °C on it, when all its heat goes into the ice.

    Arguments: water_c, ice_c [°C], water_kg [kg], constants. Returns: [kg]. Validity: water 0-100, ice -60..0
    °C. Source: heat balance.
    """
    require("water_c", water_c, 0, 100, "°C")
    require("ice_c", ice_c, -60, 0, "°C")
    require("water_kg", water_kg, 0, 1e7, "kg")
    return c_water_jkgk * water_c * water_kg / (latent_jkg - c_ice_jkgk * ice_c)


def freeze_load_jkg(water_c: Num, c_water_jkgk: float = C_WATER_JKGK, latent_jkg: float = LATENT_JKG) -> Num:
    """Heat that a kilogram of water must give up to become ice at 0 °C: more when it was hot.

    Arguments: water_c [°C], constants. Returns: [J/kg]. Validity: 0-100 °C. Source: heat balance.
    """
    require("water_c", water_c, 0, 100, "°C")
    return latent_jkg + c_water_jkgk * water_c


def torch_s(
    power_w: Num,
    area_m2: Num,
    depth_m: Num,
    efficiency: float = TORCH_EFFICIENCY,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    latent_jkg: float = LATENT_JKG,
) -> Num:
    """Time for a torch to melt a layer of ice at 0 °C.

    Arguments: power_w [W], area_m2 [m²], depth_m [m], efficiency [0-1], constants. Returns: [s]. Validity:
    power above 0. Source: heat balance.
    """
    require("power_w", power_w, 1, 1e7, "W")
    require("efficiency", efficiency, 0.01, 1)
    require("area_m2", area_m2, 0, 1e5, "m²")
    require("depth_m", depth_m, 0, 10, "m")
    return rho_ice_kgm3 * latent_jkg * area_m2 * depth_m / (power_w * efficiency)


def torch_kg(
    propane_kg: Num,
    efficiency: float = TORCH_EFFICIENCY,
    heat_jkg: float = PROPANE_JKG,
    latent_jkg: float = LATENT_JKG,
) -> Num:
    """Ice at 0 °C melted by burning propane over it.

    Arguments: propane_kg [kg], efficiency [0-1], heat_jkg [J/kg], latent_jkg. Returns: [kg]. Validity: not
    negative. Source: heat balance.
    """
    require("propane_kg", propane_kg, 0, 1e5, "kg")
    require("efficiency", efficiency, 0.01, 1)
    return propane_kg * heat_jkg * efficiency / latent_jkg


def thaw_water_m(degree_day_mm: Num, thaw_degree_days_c: Num) -> Num:
    """Melt by a sum of thawing degree-days, as water.

    Arguments: degree_day_mm [mm of water per °C·d], thaw_degree_days_c [°C·d]. Returns: [m of water].
    Validity: factor 0-25. Source: Hock 2003 (factors from memory); Braithwaite 2008.
    """
    require("degree_day_mm", degree_day_mm, 0, 25, "mm per °C·d")
    require("thaw_degree_days_c", thaw_degree_days_c, 0, 20_000, "°C·d")
    return degree_day_mm * thaw_degree_days_c / 1000


def ice_from_water_m(
    water_m: Num, rho_ice_kgm3: float = RHO_ICE_KGM3, rho_water_kgm3: float = RHO_WATER_KGM3
) -> Num:
    """Thickness of ice of the same mass as a depth of water.

    Arguments: water_m [m], constants. Returns: [m]. Validity: any. Source: mass balance.
    """
    return water_m * rho_water_kgm3 / rho_ice_kgm3
