"""What the wind does to tall boards and nets."""

from __future__ import annotations

from rinklog.physics.validity import Num, require

RHO_AIR_KGM3 = 1.25
"""Air in the wind codes, EN 1991-1-4, 4.5 (from memory); air at -20 °C has 1.39."""
WALL = 1.4
"""Net pressure on a free-standing wall beside its ends: EN 1991-1-4, table 7.9, zone B (from memory). Up to 3.4 there."""
NET_SOLID_FRAC = 0.15
"""Share of a sports net that is cord: common practice, no source. Ice and snow in the meshes make it a wall."""
CORD = 1.2
"""Drag of a long cord across the wind: a cylinder below the critical Reynolds number (from memory)."""


def pressure_pa(gust_ms: Num, rho_air_kgm3: float = RHO_AIR_KGM3) -> Num:
    """Dynamic pressure of a gust.

    Arguments: gust_ms [m/s], rho_air_kgm3. Returns: [Pa]. Validity: 0-60 m/s. Source: Bernoulli, ½ ρ v².
    """
    require("gust_ms", gust_ms, 0, 60, "m/s")
    return rho_air_kgm3 * gust_ms**2 / 2


def wall_nm(
    gust_ms: Num, height_m: Num, coefficient: float = WALL, rho_air_kgm3: float = RHO_AIR_KGM3
) -> Num:
    """Push of a gust on each metre of boards, acting at half their height.

    Arguments: gust_ms [m/s], height_m [m], coefficient, rho_air_kgm3. Returns: [N/m]. Validity: long straight boards;
    ends and corners get up to two and a half times as much. Source: EN 1991-1-4 (from memory).
    """
    require("height_m", height_m, 0, 10, "m")
    return pressure_pa(gust_ms, rho_air_kgm3) * coefficient * height_m


def net_nm(gust_ms: Num, height_m: Num, solid_frac: float = NET_SOLID_FRAC) -> Num:
    """Push of a gust on each metre of clean net, acting at half its height.

    Arguments: gust_ms [m/s], height_m [m], solid_frac the cord's share of the area. Returns: [N/m]. Validity: share at
    most 0.3; an iced net is a wall. Source: drag of its cords, ½ ρ v² · 1.2 · share.
    """
    require("solid_frac", solid_frac, 0, 0.3)
    return wall_nm(gust_ms, height_m, CORD * solid_frac)
