"""One backward-Euler step of heat through snow, ice and water, all columns at once.

Unknown is the temperature of parcels that are all ice or all water; a parcel with both stays at freezing and
its heat is what changes. Which is which is found by repeated solving (a semi-smooth Newton method), usually
twice. Heat is then added up from the fluxes, so it is kept whatever the iteration did.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from scipy.linalg.lapack import dgtsv

from rinklog.physics.column.balance import Top, linear
from rinklog.physics.column.forcing import Forcing
from rinklog.physics.column.settings import Settings
from rinklog.physics.column.state import (
    GRAINS,
    HEAT,
    MASS,
    UPPER,
    WHITE,
    Bools,
    Column,
    Floats,
    above_freezing_k,
    front_ice_kgm2,
)
from rinklog.physics.snow import conductivity_sturm_wmk

BOLD_TURNS, MOST_TURNS = 8, 200
FRONT_TURNS = 3
"""The widening of fronts is settled in the first turns and then held, so that the rest must end."""
SURFACE_K = 0.02
SLACK_JM2, SLACK_K = 1.0, 1e-6
LEAP_K = 15.0
"""Furthest that the tangent of the surface balance moves in one turn."""
LUKEWARM_K = 0.05
"""Water closer to freezing than this may grow ice within the step."""
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


class Step(NamedTuple):
    """Result of one step: the column, its surface [°C], heat to surface and from the base [W/m²], turns."""

    column: Column
    into_top: Floats
    into_base: Floats
    turns: int


def _stack(
    column: Column, force: Forcing, top: Top, regime: Regime, settings: Settings, hold_s: float
) -> Stack:
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


def _links(stack: Stack, regime: Regime, above: Floats, drive: tuple[Floats, Floats]) -> Floats:
    """Conductance between neighbours [W/m²/K]; last column is to the ground.

    A front that freezes moves during the step; its mean resistance solves a quadratic, which makes growth
    from nothing exact (Stefan) whatever the step.
    """
    taken, steep = drive
    resistance = stack.faces.copy()
    beta = np.where(regime.mixed, stack.widen, 0.0)
    cold = np.maximum(-above, 0.0)
    push = np.zeros_like(resistance)
    push[:, :-1] = cold[:, :-1] * beta[:, 1:] + cold[:, 1:] * beta[:, :-1]
    if stack.ground_k is not None:
        push[:, -1] = max(-stack.ground_k, 0.0) * beta[:, -1]
    outside = np.where(stack.bare, stack.extra + THIN_M2KW + 1 / steep, 0.0)
    push[:, 0] = np.where(stack.bare, np.maximum(-taken / steep, 0.0) * beta[:, 1], push[:, 0])
    resistance[:, 0] += outside
    resistance = (resistance + np.sqrt(resistance * resistance + 4 * push)) / 2
    resistance[:, 0] -= outside
    links = 1 / resistance
    if stack.ground_k is None:
        links[:, -1] = 0.0
    return links


def _solve(
    stack: Stack,
    regime: Regime,
    links: Floats,
    surface: tuple[Floats, Floats],
    hold_s: float,
    settings: Settings,
) -> Floats:
    """Temperatures above freezing [K] from the tridiagonal balance; all columns in one chain, uncoupled."""
    source, slope = surface
    heat_cap = np.where(regime.liquid, settings.c_water_jkgk, settings.c_ice_jkgk)
    diagonal = stack.mass * heat_cap / hold_s + links
    diagonal[:, 1:] += links[:, :-1]
    diagonal[:, 0] += slope
    right = (stack.heat - np.where(regime.liquid, stack.latent, 0.0)) / hold_s
    right[:, 0] += source
    if stack.ground_k is not None:
        right[:, -1] += links[:, -1] * stack.ground_k
    free = ~regime.mixed
    diagonal = np.where(free, diagonal, 1.0)
    right *= free
    beyond = -links
    beyond[:, -1] = 0.0
    after = beyond * free
    before = beyond
    before[:, :-1] *= free[:, 1:]
    *_, found, info = dgtsv(before.ravel()[:-1], diagonal.ravel(), after.ravel()[:-1], right.ravel())
    if info != 0:
        raise ArithmeticError("the heat balance of a column could not be solved")
    return np.asarray(found).reshape(stack.mass.shape)


def _fluxes(stack: Stack, links: Floats, above: Floats, surface: tuple[Floats, Floats]) -> Floats:
    """Heat down through every face [W/m²], the surface first, the base last."""
    source, slope = surface
    flux = np.empty((above.shape[0], above.shape[1] + 1))
    flux[:, 0] = source - slope * above[:, 0]
    flux[:, 1:-1] = links[:, :-1] * (above[:, :-1] - above[:, 1:])
    flux[:, -1] = 0.0 if stack.ground_k is None else links[:, -1] * (above[:, -1] - stack.ground_k)
    return flux


def _first_regime(column: Column, top: Top, surface_c: Floats, settings: Settings) -> Regime:
    mass, heat = column.cells[MASS], column.cells[HEAT]
    none = np.zeros(mass.shape, dtype=bool)
    if not settings.phase_change:
        return Regime(none, none, none[:, 0])
    lukewarm = mass * (settings.latent_jkg + settings.c_water_jkgk * LUKEWARM_K)
    mixed = (heat > 0) & (heat < lukewarm)
    liquid = (heat >= lukewarm) & (mass > 0)
    return Regime(mixed, liquid, top.may_thaw & (surface_c >= settings.freezing_c))


def step_heat(column: Column, force: Forcing, top: Top, settings: Settings, hold_s: float) -> Step:
    """March heat and phase change by one step.

    Arguments: column, force and top of the step, settings, hold_s [s]. Returns: Step. Validity: any step;
    first order in time. Source: enthalpy method, Voller & Cross 1981; fronts within cells by Stefan's law.
    """
    regime = _first_regime(column, top, column.surface_c, settings)
    stack = _stack(column, force, top, regime, settings, hold_s)
    above = above_freezing_k(stack.mass, stack.heat, settings)
    if stack.ground_k is not None:
        above = np.where(stack.mass > 0, above, stack.ground_k)
    guess = _Guess(stack, regime, force, top, stack.faces, above, column.surface_c)
    heat, surface_c = np.empty_like(stack.heat), np.empty_like(column.surface_c)
    flux = np.empty((heat.shape[0], heat.shape[1] + 1))
    rows = np.arange(column.columns)
    for turn in range(1, MOST_TURNS + 1):
        guess, trial, done = _turn(guess, turn, settings, hold_s)
        if done.all():
            heat[rows], flux[rows], surface_c[rows] = trial
            break
        if done.any():
            for kept, value in zip((heat, flux, surface_c), trial, strict=True):
                kept[rows[done]] = value[done]
            rows, guess = rows[~done], guess.only(~done)
    heat = np.where(stack.mass > 0, heat, 0.0)
    settled = _settle_fronts(column, stack, heat, flux, surface_c, settings, hold_s)
    return Step(settled, flux[:, 0], -flux[:, -1], turn)


class _Guess(NamedTuple):
    """Where the iteration stands, for the columns that are not done yet."""

    stack: Stack
    regime: Regime
    force: Forcing
    top: Top
    links: Floats
    above: Floats
    surface_c: Floats

    def only(self, rows: Bools) -> _Guess:
        """The same for some columns."""

        def cut(part: Any) -> Any:
            return part._make(v[rows] if isinstance(v, np.ndarray) else v for v in part)

        stack, regime, force, top = cut(self.stack), cut(self.regime), cut(self.force), cut(self.top)
        return _Guess(stack, regime, force, top, self.links[rows], self.above[rows], self.surface_c[rows])


def _turn(
    guess: _Guess, turn: int, settings: Settings, hold_s: float
) -> tuple[_Guess, tuple[Floats, Floats, Floats], Bools]:
    """Solve once and look which parcels would be in another phase, and whether the surface moved."""
    stack, regime, force, top, links, above, surface_c = guess
    taken, steep = linear(surface_c, top, force, settings)
    steep = np.maximum(steep, 1e-3)
    if turn <= FRONT_TURNS:
        links = _links(stack, regime, above, (taken, steep))
    over = stack.extra + stack.first
    shared = 1 / (1 + steep * over)
    surface = (np.where(regime.thaws, taken, taken * shared), np.where(regime.thaws, 0.0, steep * shared))
    above = _solve(stack, regime, links, surface, hold_s, settings)
    flux = _fluxes(stack, links, above, surface)
    heat = stack.heat + hold_s * (flux[:, :-1] - flux[:, 1:])
    free_k = (above[:, 0] + taken * over) * shared
    after = _regime(stack, regime, heat, top, free_k, settings)
    found_c = np.where(after.thaws, 0.0, free_k) + settings.freezing_c
    other = (after.mixed != regime.mixed) | (after.liquid != regime.liquid)
    other[:, 0] |= after.thaws != regime.thaws
    done = ~other.any(axis=1) & (np.abs(found_c - surface_c) < SURFACE_K)
    if turn == 1 or turn == MOST_TURNS:
        done[:] = turn == MOST_TURNS
    if turn > BOLD_TURNS:
        after = _first_change(regime, after, other)
    leap = np.clip(found_c, surface_c - LEAP_K, surface_c + LEAP_K)
    leap = np.where(regime.thaws, settings.freezing_c, leap)
    return _Guess(stack, after, force, top, links, above, leap), (heat, flux, found_c), done


def _first_change(old: Regime, new: Regime, other: Bools) -> Regime:
    """Let only the uppermost parcel change: slower, but it cannot go round in circles.

    Source: block pivoting with a single-pivot fallback (Murty 1974; Júdice & Pires 1994).
    """
    first = other & (np.cumsum(other, axis=1) == 1)
    thaws = np.where(first[:, 0], new.thaws, old.thaws)
    return Regime(np.where(first, new.mixed, old.mixed), np.where(first, new.liquid, old.liquid), thaws)


def _regime(stack: Stack, old: Regime, heat: Floats, top: Top, free_k: Floats, settings: Settings) -> Regime:
    """Which phase each parcel's heat asks for; a change smaller than rounding is no change."""
    if not settings.phase_change:
        return old
    has = stack.mass > 0
    thawed = heat > np.where(old.mixed, -SLACK_JM2, SLACK_JM2)
    molten = heat >= stack.latent + np.where(old.liquid, -SLACK_JM2, SLACK_JM2)
    thaws = top.may_thaw & (free_k > np.where(old.thaws, -SLACK_K, SLACK_K))
    return Regime(has & thawed & ~molten, has & molten, thaws)


def _settle_fronts(
    column: Column,
    stack: Stack,
    heat: Floats,
    flux: Floats,
    surface_c: Floats,
    settings: Settings,
    hold_s: float,
) -> Column:
    """Hand the ice gained or lost to the upper and lower fronts by the heat that passed each side."""
    cells = column.cells.copy()
    cells[HEAT] = heat
    if not settings.phase_change:
        return Column(cells, column.snow_kgm3, column.snow_albedo, surface_c, column.covered)
    grains = cells[GRAINS]
    mixed = (heat > 0) & (heat < stack.latent)
    frozen = stack.mass - heat / settings.latent_jkg
    grains = np.where(mixed, np.minimum(grains, frozen / np.maximum(stack.mass, 1e-12)), 0.0)
    front = front_ice_kgm2(stack.mass, heat, grains, settings)
    grown = -flux[:, :-1] * hold_s / (settings.latent_jkg * (1 - grains))
    was_solid = stack.heat <= 0
    from_below = (flux[:, 1:] < 0) & (-flux[:, 1:] > flux[:, :-1])
    upper = np.where(was_solid, np.where(from_below, front, 0.0), cells[UPPER] + grown)
    cells[UPPER] = np.where(mixed, np.clip(upper, 0.0, front), 0.0)
    cells[GRAINS] = grains
    cells[WHITE] = np.where(heat >= stack.latent, 0.0, cells[WHITE])
    return Column(cells, column.snow_kgm3, column.snow_albedo, surface_c, column.covered)
