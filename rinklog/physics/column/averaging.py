"""How much of a step's mean heat into the surface is the heat at its start: what lets the wind jump every hour.

Where wind jumps and the surface lags, backward Euler takes the last heat of a step for its mean, which is a bias,
not noise: its surface follows weather as the surface of thick ice would a quarter of a step earlier. So a quarter
of the mean is taken from the start of the step, less on ice so thin that it is steady within the step.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from rinklog.physics.column.balance import Terms, Top, linear, terms
from rinklog.physics.column.forcing import Forcing
from rinklog.physics.column.settings import Settings
from rinklog.physics.column.stack import Regime, Stack
from rinklog.physics.column.state import Floats

QUARTER = 0.25
"""Lag of backward Euler on thick ice, in steps: its surface answers heat as sqrt((1 - exp(-i w dt)) / dt), which
is sqrt(i w) (1 - i w dt / 4 + ...); on ice that is steady within a step the lag is none."""
SLOWEST = np.pi**2 / 4
"""Rate of the slowest mode of ice over water, times thickness squared, over diffusivity [1]."""
START_TURNS = 2
LEAP_K = 15.0
"""Furthest that the tangent of the surface balance moves in one turn."""


class Start(NamedTuple):
    """The start of a step, in the weather of the step; arrays (columns,)."""

    share: Floats
    """Of the start in the mean heat into the surface [1]; 0 but on bare ice."""
    into_top: Floats
    """That share of the heat into the surface at the start [W/m²]."""


def start_of(
    stack: Stack,
    regime: Regime,
    first_k: Floats,
    surface_c: Floats,
    force: Forcing,
    top: Top,
    settings: Settings,
    hold_s: float,
) -> tuple[Start, Terms]:
    """What the start of a step gives to the mean heat into the surface.

    Arguments: stack, regime, first_k first parcel above freezing [K], surface_c [°C] before, force and top of
    the step, settings, hold_s [s]. Returns: Start, heat to the surface at the start [W/m²].
    """
    over = stack.extra + stack.first + stack.faces[:, 0]
    for _ in range(START_TURNS):
        taken, steep = linear(surface_c, top, force, settings)
        found_c = (first_k + taken * over) / (1 + steep * over) + settings.freezing_c
        found_c = np.where(top.may_thaw, np.minimum(found_c, settings.freezing_c), found_c)
        surface_c = np.clip(found_c, surface_c - LEAP_K, surface_c + LEAP_K)
    heat = terms(surface_c, top, force, settings)
    share = _share(stack, regime, steep / (1 + steep * over), settings, hold_s)
    return Start(share, share * sum(heat)), heat


def _share(stack: Stack, regime: Regime, slope: Floats, settings: Settings, hold_s: float) -> Floats:
    """A quarter, less on thin ice, and never so much that the ice reached in a step could overshoot the weather."""
    solid = ~(regime.mixed | regime.liquid)
    ice = np.maximum(np.where(solid, stack.mass, 0.0)[:, 1:].sum(axis=1), 1e-3)
    spread = hold_s * settings.k_ice_wmk * settings.rho_ice_kgm3 / settings.c_ice_jkgk
    share = QUARTER / (1 + SLOWEST * spread / (ice * ice))
    most = settings.c_ice_jkgk * np.minimum(ice, np.sqrt(spread)) / np.maximum(hold_s * slope, 1e-9)
    bare = stack.bare & solid[:, 1] & (stack.mass[:, 1] > 0)
    return np.where(bare, np.minimum(share, most), 0.0)
