"""What standing water does to the boards; ice pressing on them is not in this."""

from __future__ import annotations

from rinklog.physics.constants import GRAVITY_MS2, RHO_WATER_KGM3
from rinklog.physics.validity import Num, require

CHECK_DEPTH_M = 0.5
"""Depth at the boards from which the keeper is told to have them checked [m]."""


def pressure_pa(
    depth_m: Num, rho_water_kgm3: float = RHO_WATER_KGM3, gravity_ms2: float = GRAVITY_MS2
) -> Num:
    """Pressure at the foot of the boards.

    Arguments: depth_m [m], constants. Returns: [Pa]. Validity: 0-5 m of still water. Source: hydrostatics.
    """
    require("depth_m", depth_m, 0, 5, "m")
    return rho_water_kgm3 * gravity_ms2 * depth_m


def force_nm(depth_m: Num, rho_water_kgm3: float = RHO_WATER_KGM3, gravity_ms2: float = GRAVITY_MS2) -> Num:
    """Push on each metre of boards, acting at a third of the depth.

    Arguments: depth_m [m], constants. Returns: [N/m]. Validity: 0-5 m of still water. Source: hydrostatics.
    """
    return pressure_pa(depth_m, rho_water_kgm3, gravity_ms2) * depth_m / 2


def moment_nmm(depth_m: Num, rho_water_kgm3: float = RHO_WATER_KGM3, gravity_ms2: float = GRAVITY_MS2) -> Num:
    """Moment about the foot on each metre of boards.

    Arguments: depth_m [m], constants. Returns: [N·m/m]. Validity: 0-5 m of still water. Source: hydrostatics.
    """
    return force_nm(depth_m, rho_water_kgm3, gravity_ms2) * depth_m / 3
