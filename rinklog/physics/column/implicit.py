"""One implicit step of heat through snow, ice and water, all columns at once.

Unknown is the temperature of parcels that are all ice or all water; a parcel with both stays at freezing and
its heat is what changes. Which is which is found by repeated solving (a semi-smooth Newton method), usually
twice. Heat is then added up from the fluxes, so it is kept whatever the iteration did. Backward Euler, with two
means in place of last values: of a moving front's resistance (here) and of the surface's heat (averaging).
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from scipy.linalg.lapack import dgtsv

from rinklog.physics.column.averaging import LEAP_K, Start, start_of
from rinklog.physics.column.balance import Terms, Top, linear, terms
from rinklog.physics.column.forcing import Forcing
from rinklog.physics.column.settings import Settings
from rinklog.physics.column.stack import THIN_M2KW, Regime, Stack, stack_of
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

BOLD_TURNS, MOST_TURNS = 8, 200
FRONT_TURNS = 3
"""The widening of fronts is settled in the first turns and then held, so that the rest must end."""
SURFACE_K = 0.02
SLACK_JM2, SLACK_K = 1.0, 1e-6
LUKEWARM_K = 0.05
"""Water closer to freezing than this may grow ice within the step."""


class Step(NamedTuple):
    """Result of one step: the column, its surface [°C], heat to surface and from the base [W/m²], turns."""

    column: Column
    heat: Terms
    """Mean over the step."""
    into_top: Floats
    into_base: Floats
    turns: int


def _links(stack: Stack, regime: Regime, start: Start, above: Floats, drive: tuple[Floats, Floats]) -> Floats:
    """Conductance between neighbours [W/m²/K]; last column is to the ground.

    A front that freezes moves during the step; its mean resistance solves a quadratic, which makes growth
    from nothing exact (Stefan) whatever the step. Temperatures stand for the middle of the step where the ice is
    steady, for later where the start has a share; the front is taken where it is then.
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
    push *= 1 + start.share[:, None]
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
    surface: tuple[Floats, Floats, Floats],
    hold_s: float,
    settings: Settings,
) -> Floats:
    """Temperatures above freezing [K] from the tridiagonal balance; all columns in one chain, uncoupled."""
    source, slope, early = surface
    heat_cap = np.where(regime.liquid, settings.c_water_jkgk, settings.c_ice_jkgk)
    diagonal = stack.mass * heat_cap / hold_s + links
    diagonal[:, 1:] += links[:, :-1]
    diagonal[:, 0] += slope
    right = (stack.heat - np.where(regime.liquid, stack.latent, 0.0)) / hold_s
    right[:, 0] += source
    right[:, 1] += early
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


def _fluxes(stack: Stack, links: Floats, above: Floats, surface: tuple[Floats, Floats, Floats]) -> Floats:
    """Mean heat down through every face [W/m²], the surface first, the base last."""
    source, slope, early = surface
    flux = np.empty((above.shape[0], above.shape[1] + 1))
    flux[:, 0] = source - slope * above[:, 0] + early
    flux[:, 1:-1] = links[:, :-1] * (above[:, :-1] - above[:, 1:])
    flux[:, 1] += early
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
    about second order in time on bare ice, else first. Source: enthalpy method, Voller & Cross 1981; fronts
    within cells by Stefan's law.
    """
    regime = _first_regime(column, top, column.surface_c, settings)
    stack = stack_of(column, force, top, regime, settings, hold_s)
    above = above_freezing_k(stack.mass, stack.heat, settings)
    if stack.ground_k is not None:
        above = np.where(stack.mass > 0, above, stack.ground_k)
    start, early = start_of(stack, regime, above[:, 1], column.surface_c, force, top, settings, hold_s)
    guess = _Guess(stack, regime, force, top, start, stack.faces, above, column.surface_c)
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
    late = terms(surface_c, top, force, settings)
    share = start.share
    mean = Terms(*(share * a + (1 - share) * b for a, b in zip(early, late, strict=True)))
    return Step(settled, mean, flux[:, 0], -flux[:, -1], turn)


class _Guess(NamedTuple):
    """Where the iteration stands, for the columns that are not done yet."""

    stack: Stack
    regime: Regime
    force: Forcing
    top: Top
    start: Start
    links: Floats
    above: Floats
    surface_c: Floats

    def only(self, rows: Bools) -> _Guess:
        """The same for some columns."""

        def cut(part: Any) -> Any:
            return part._make(v[rows] if isinstance(v, np.ndarray) else v for v in part)

        parts = (cut(part) for part in self[:5])
        return _Guess(*parts, *(part[rows] for part in self[5:]))


def _turn(
    guess: _Guess, turn: int, settings: Settings, hold_s: float
) -> tuple[_Guess, tuple[Floats, Floats, Floats], Bools]:
    """Solve once and look which parcels would be in another phase, and whether the surface moved."""
    stack, regime, force, top, start, links, above, surface_c = guess
    taken, steep = linear(surface_c, top, force, settings)
    steep = np.maximum(steep, 1e-3)
    if turn <= FRONT_TURNS:
        links = _links(stack, regime, start, above, (taken, steep))
    over = stack.extra + stack.first
    shared = 1 / (1 + steep * over)
    late = 1 - start.share
    source = late * np.where(regime.thaws, taken, taken * shared)
    surface = (source, late * np.where(regime.thaws, 0.0, steep * shared), start.into_top)
    passed = links.copy()
    passed[:, 0] *= late
    above = _solve(stack, regime, passed, surface, hold_s, settings)
    flux = _fluxes(stack, passed, above, surface)
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
    return _Guess(stack, after, force, top, start, links, above, leap), (heat, flux, found_c), done


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
