"""Head lost in a hose, and how long a fill runs."""

from __future__ import annotations

from rinklog.physics.constants import GRAVITY_MS2, RHO_WATER_KGM3
from rinklog.physics.validity import Num, require


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
