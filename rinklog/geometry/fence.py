"""A porous snow fence: what it holds, where it stands, how far its drift reaches."""

from __future__ import annotations

from rinklog.physics.validity import Num, require

POROUS, SLATTED, SOLID = 8.5, 7.7, 2.9
"""Capacity at 1 m height [t/m]: half-open boards, slat and wire, solid (Tabler 1994, 2003)."""
GAP_FRAC = 0.125
"""Gap under a fence as a share of its height: middle of the published 0.10-0.15."""


def capacity_tm(height_m: Num, coefficient_tm: float = POROUS) -> Num:
    """Snow a full fence holds.

    Arguments: height_m [m], coefficient_tm [t/m]. Returns: [t/m]. Validity: 0.3-6 m. Source: Tabler 1994, Qc
    = 8.5 H^2.2.
    """
    require("height_m", height_m, 0.1, 10, "m")
    return coefficient_tm * height_m**2.2


def height_m(store_tm: Num, coefficient_tm: float = POROUS) -> Num:
    """Height of a fence that holds an amount of snow.

    Arguments: store_tm [t/m], coefficient_tm [t/m]. Returns: [m]. Validity: 0.05-1300 t/m. Source: Tabler
    1994.
    """
    require("store_tm", store_tm, 0.05, 1300, "t/m")
    return (store_tm / coefficient_tm) ** (1 / 2.2)


def setback_m(height: Num, times: float = 35.0) -> Num:
    """Distance to keep between fence and rink.

    Arguments: height [m], times. Returns: [m]. Validity: level ground. Source: Tabler 1994, 35 H.
    """
    return times * height


def drift_m(height: Num) -> tuple[Num, Num]:
    """Length and greatest depth of the full lee drift.

    Arguments: height [m]. Returns: (length, depth) [m]. Validity: half-open fence. Source: Tabler 1980, 30 H
    and 1.2 H.
    """
    return 30 * height, 1.2 * height


def drift_area_m2(height: Num) -> Num:
    """Cross-section of the full lee drift.

    Arguments: height [m]. Returns: [m²]. Validity: half-open fence. Source: Tabler 1980, 19.3 H².
    """
    return 19.3 * height**2


def drift_water_m3m(height: Num) -> Num:
    """Water in the full lee drift.

    Arguments: height [m]. Returns: [m³/m]. Validity: half-open fence. Source: Tabler 1980, 6.8 H^2.18.
    """
    return 6.8 * height**2.18
