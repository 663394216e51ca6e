"""Head lost in a hose, and how long a fill runs."""

from __future__ import annotations

import math

from rinklog.physics.constants import GRAVITY_MS2, RHO_WATER_KGM3
from rinklog.physics.validity import Num, require

VISCOSITY_PAS = 1.792e-3
"""Viscosity of water at 0 °C [Pa·s], 1.8 times that at 20 °C."""


def head_loss_m(length_m: Num, diameter_m: Num, flow_m3s: Num, roughness_c: Num = 140.0) -> Num:
    """Head lost to friction in a full hose.

    Arguments: length_m, diameter_m [m], flow_m3s [m³/s], roughness_c [1]. Returns: [m]. Validity: turbulent
    water, C 60-160 (140-150 smooth hose); about 10 % more just above freezing. Source: Hazen-Williams, h =
    10.67 L Q^1.852 / (C^1.852 D^4.8704).
    """
    require("length_m", length_m, 0, 1e5, "m")
    require("diameter_m", diameter_m, 0.001, 2, "m")
    require("flow_m3s", flow_m3s, 0, 10, "m³/s")
    require("roughness_c", roughness_c, 60, 160)
    return 10.67 * length_m * flow_m3s**1.852 / (roughness_c**1.852 * diameter_m**4.8704)


def darcy_loss_pa(
    length_m: float,
    diameter_m: float,
    flow_m3s: float,
    roughness_m: float = 1.5e-6,
    viscosity_pas: float = VISCOSITY_PAS,
    rho_water_kgm3: float = RHO_WATER_KGM3,
) -> float:
    """Pressure lost to friction in a full pipe, laminar or turbulent, at a water temperature's viscosity.

    Arguments: length_m, diameter_m [m], flow_m3s [m³/s], roughness_m [m, smooth plastic], viscosity_pas
    [Pa·s, 0 °C], rho_water_kgm3. Returns: [Pa]. Validity: full pipe; between Reynolds 2300 and 4000 only a
    rough guide. Source: Darcy-Weisbach with Colebrook 1939, started from Swamee & Jain 1976.
    """
    require("length_m", length_m, 0, 1e5, "m")
    require("flow_m3s", flow_m3s, 0, 10, "m³/s")
    speed_ms = velocity_ms(flow_m3s, diameter_m)
    if speed_ms == 0:
        return 0.0
    reynolds = rho_water_kgm3 * speed_ms * diameter_m / viscosity_pas
    friction = 64 / reynolds if reynolds < 2300 else _colebrook(reynolds, roughness_m / diameter_m)
    return friction * length_m / diameter_m * rho_water_kgm3 * speed_ms**2 / 2


def velocity_ms(flow_m3s: float, diameter_m: float) -> float:
    """Mean speed of water in a full pipe.

    Arguments: flow_m3s [m³/s], diameter_m [m]. Returns: [m/s]. Validity: full pipe. Source: continuity.
    """
    require("diameter_m", diameter_m, 0.001, 2, "m")
    return flow_m3s / (math.pi * diameter_m**2 / 4)


def _colebrook(reynolds: float, relative: float) -> float:
    """Friction factor by fixed-point steps on 1/√f, which settle within a few."""
    root = -2 * math.log10(relative / 3.7 + 5.74 / reynolds**0.9)
    for _ in range(20):
        root = -2 * math.log10(relative / 3.7 + 2.51 * root / reynolds)
    return 1 / root**2


def loss_pa(head_m: Num, rho_water_kgm3: float = RHO_WATER_KGM3, gravity_ms2: float = GRAVITY_MS2) -> Num:
    """The same loss as pressure. Arguments: head_m [m], constants. Returns: [Pa]. Source: hydrostatics."""
    return rho_water_kgm3 * gravity_ms2 * head_m


def fill_s(volume_m3: Num, flow_m3s: Num) -> Num:
    """How long a steady flow takes to fill a volume.

    Arguments: volume_m3 [m³], flow_m3s [m³/s]. Returns: [s]. Validity: flow above 0. Source: definition.
    """
    require("volume_m3", volume_m3, 0, 1e7, "m³")
    require("flow_m3s", flow_m3s, 1e-7, 10, "m³/s")
    return volume_m3 / flow_m3s
