"""Long wave from the sky and to it, and the share of sunlight that is kept."""

from __future__ import annotations

from typing import cast

import numpy as np

from rinklog.physics.constants import EMISSIVITY_ICE, SIGMA_WM2K4, ZERO_C_K
from rinklog.physics.validity import Num, require


def emissivity_brutsaert(air_c: Num, vapour: Num) -> Num:
    """Emissivity of a clear sky; verified over subarctic snow by Sicart et al. 2006.

    Arguments: air_c [°C], vapour [Pa]. Returns: [1]. Validity: -60..50 °C. Source: Brutsaert 1975.
    """
    require("air_c", air_c, -60, 50, "°C")
    return cast(Num, 1.24 * (vapour / 100 / (air_c + ZERO_C_K)) ** (1 / 7))


def emissivity_idso(air_c: Num, vapour: Num) -> Num:
    """Emissivity of a clear sky; high in cold air.

    Arguments: air_c [°C], vapour [Pa]. Returns: [1]. Validity: -60..50 °C. Source: Idso 1981.
    """
    require("air_c", air_c, -60, 50, "°C")
    return cast(Num, 0.70 + 5.95e-5 * vapour / 100 * np.exp(1500 / (air_c + ZERO_C_K)))


def emissivity_idso_jackson(air_c: Num) -> Num:
    """Emissivity of a clear sky from air temperature alone.

    Arguments: air_c [°C]. Returns: [1]. Validity: -60..50 °C. Source: Idso & Jackson 1969 (273, not 273.15).
    """
    require("air_c", air_c, -60, 50, "°C")
    return cast(Num, 1 - 0.261 * np.exp(-7.77e-4 * (273 - (air_c + ZERO_C_K)) ** 2))


def longwave_down_wm2(
    air_c: Num, vapour: Num, cloud_frac: Num = 0.0, cloud_factor: float = 0.22, sigma: float = SIGMA_WM2K4
) -> Num:
    """Long wave arriving from the sky, Brutsaert's clear sky raised by cloud.

    Arguments: air_c [°C], vapour [Pa], cloud_frac [0-1], cloud_factor [1]. Returns: [W/m²]. Validity: -60..50
    °C. Source: Brutsaert 1975; cloud factor 1 + 0.22 c² from memory. At full cloud in mild moist air the
    product may pass 1; it is then held at a black sky.
    """
    require("cloud_frac", cloud_frac, 0, 1)
    emissivity = np.minimum(1.0, emissivity_brutsaert(air_c, vapour) * (1 + cloud_factor * cloud_frac**2))
    return cast(Num, emissivity * sigma * (air_c + ZERO_C_K) ** 4)


def longwave_up_wm2(surface_c: Num, emissivity: Num = EMISSIVITY_ICE, sigma: float = SIGMA_WM2K4) -> Num:
    """Long wave emitted by a surface.

    Arguments: surface_c [°C], emissivity [0-1]. Returns: [W/m²]. Validity: above absolute zero. Source:
    Stefan-Boltzmann.
    """
    return emissivity * sigma * (surface_c + ZERO_C_K) ** 4


def longwave_net_wm2(
    longwave_down: Num, surface_c: Num, emissivity: Num = EMISSIVITY_ICE, sigma: float = SIGMA_WM2K4
) -> Num:
    """Long wave kept by a grey surface, positive to the surface.

    Arguments: longwave_down [W/m²], surface_c [°C], emissivity [0-1]. Returns: [W/m²]. Validity: any.
    Source: eps (L_down - sigma T⁴).
    """
    return emissivity * longwave_down - longwave_up_wm2(surface_c, emissivity, sigma)


def longwave_slope_wm2k(surface_c: Num, emissivity: Num = EMISSIVITY_ICE, sigma: float = SIGMA_WM2K4) -> Num:
    """How fast emission grows with surface temperature, for an implicit step.

    Arguments: surface_c [°C], emissivity [0-1]. Returns: [W/m²/K]. Validity: any. Source: d(eps sigma T⁴)/dT.
    """
    return 4 * emissivity * sigma * (surface_c + ZERO_C_K) ** 3


def sun_kept_wm2(sun_wm2: Num, albedo: Num, shade_frac: Num = 0.0) -> Num:
    """Sunlight kept by a surface.

    Arguments: sun_wm2 on the horizontal [W/m²], albedo [0-1], shade_frac of the sun taken away [0-1].
    Returns: [W/m²]. Validity: not negative. Source: (1 - a)(1 - shade) G.
    """
    return (1 - albedo) * (1 - shade_frac) * sun_wm2
