"""What one step of heat is solved over: parcels, their phases, and the resistances between them."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from rinklog.physics.column.balance import Top
from rinklog.physics.column.forcing import Forcing
from rinklog.physics.column.settings import Settings
from rinklog.physics.column.state import Bools, Column, Floats, front_ice_kgm2
from rinklog.physics.snow import conductivity_sturm_wmk

THIN_M2KW = 1e-6
"""Resistance of nothing: what an empty parcel counts as."""


class Stack(NamedTuple):
    """What does not change while one step is solved; arrays (columns, parcels) or (columns,)."""

    mass: Floats
    heat: Floats
    latent: Floats
    faces: Floats
    """Resistance between the middles of neighbours, the last to the ground [m²K/W]."""
    first: Floats
    """Resistance from the top of the first parcel to its middle [m²K/W]."""
    widen: Floats
    """Growth of a front's resistance per unit of heat that leaves it, over half a step [m⁴K²/W²]."""
    extra: Floats
    """Resistance of cover and measured snow above the first parcel [m²K/W]."""
    bare: Bools
    ground_k: float | None


class Regime(NamedTuple):
    """Which parcels hold ice and water together, which are all water, which surfaces thaw."""

    mixed: Bools
    liquid: Bools
    thaws: Bools


def stack_of(
    column: Column, force: Forcing, top: Top, regime: Regime, settings: Settings, hold_s: float
) -> Stack:
    """The parcels of a column at the start of a step.

    Arguments: column, force and top of the step, regime, settings, hold_s [s]. Returns: Stack.
    """
    mass, heat, upper, grains, _ = column.cells
    front = front_ice_kgm2(mass, heat, grains, settings)
    ice = 1 / (settings.rho_ice_kgm3 * settings.k_ice_wmk)
    half_water = mass * (0.5 / (settings.rho_water_kgm3 * settings.k_mixed_wmk))
    plain = np.where(regime.liquid, half_water, mass * (ice / 2))
    up = np.where(regime.mixed, upper * ice, plain)
    down = np.where(regime.mixed, (front - upper) * ice, plain)
    up[:, 0] = down[:, 0] = column.snow_m / (2 * _snow_k(column.snow_kgm3, settings))
    ground = None if settings.ground_c is None else settings.ground_c - settings.freezing_c
    if ground is not None and ground > 0:
        down += _still_water(mass, front, upper, regime, settings)
    up, faces = np.maximum(up, THIN_M2KW), np.maximum(down, THIN_M2KW)
    faces[:, :-1] += up[:, 1:]
    widen = hold_s * ice / (2 * settings.latent_jkg * (1 - grains))
    widen[:, 0] = 0.0
    measured = force.snow_m / _snow_k(np.full_like(column.snow_kgm3, settings.measured_snow_kgm3), settings)
    bare, latent = mass[:, 0] <= 0, settings.latent_jkg * mass
    return Stack(mass, heat, latent, faces, up[:, 0], widen, top.contact_m2kw + measured, bare, ground)


def _snow_k(density_kgm3: Floats, settings: Settings) -> Floats:
    if settings.snow_k_wmk is not None:
        return np.full_like(density_kgm3, settings.snow_k_wmk)
    return np.asarray(conductivity_sturm_wmk(np.clip(density_kgm3, 10, 600)))


def _still_water(mass: Floats, front: Floats, upper: Floats, regime: Regime, settings: Settings) -> Floats:
    """Water warmed from below stays layered (it is densest at 4 °C), so the ground's heat is conducted."""
    last = mass > 0
    last[:, :-1] &= mass[:, 1:] <= 0
    wet = last & (regime.mixed | regime.liquid) & (front - upper <= 0)
    return np.where(wet, (mass - front) / (settings.rho_water_kgm3 * settings.k_water_wmk), 0.0)
