"""March a column through weather and write down what happened, with the closure of every step."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from rinklog.physics.column.actions import Action, apply
from rinklog.physics.column.balance import top_of
from rinklog.physics.column.forcing import Forcing, Weather, at_step, coefficients
from rinklog.physics.column.implicit import step_heat
from rinklog.physics.column.layers import tidy
from rinklog.physics.column.settings import Settings
from rinklog.physics.column.state import GRAINS, MASS, UPPER, WHITE, Column, Floats
from rinklog.physics.column.wetting import Gain, age_snow, drain_snow, evaporate, flood_by_weight, precipitate

STEP_S = 600.0
"""Longest step unless told otherwise [s]: no further off a fine grid than a general solver in cold, gusts or thaw."""
FLUXES = ("sun_wm2", "longwave_wm2", "sensible_wm2", "latent_wm2", "ground_wm2")
STATES = ("ice_m", "white_ice_m", "water_m", "snow_m", "slush_m", "surface_c")
CLOSURE = ("energy_residual_wm2", "mass_residual_kgm2")
EVERYTHING = STATES + FLUXES + CLOSURE
WET = "wet_m"
"""Kept only when asked for: water and slush that lie on ice or on the floor, not the water under floating ice."""
SLUSH_GRAINS = 0.1
"""Share of grains of drowned new snow (100 kg/m³): thinner than that, part of the water is open [kg/kg]."""


@dataclass(frozen=True)
class Record:
    """One row a weather step: state at its end, means over it; each array is (steps, columns)."""

    values: dict[str, Floats]

    def __getitem__(self, name: str) -> Floats:
        return self.values[name]


class _Tally:
    """Sums over one weather step."""

    def __init__(self, columns: int) -> None:
        self.fluxes = np.zeros((len(FLUXES), columns))
        self.mass = np.zeros(columns)
        self.heat = np.zeros(columns)

    def gain(self, gain: Gain) -> None:
        self.mass += gain.mass
        self.heat += gain.heat


def march(
    column: Column,
    weather: Weather,
    settings: Settings,
    *,
    actions: Sequence[Action] = (),
    step_s: float = STEP_S,
    shade_frac: Floats | float = 0.0,
    keep: Iterable[str] = EVERYTHING,
) -> tuple[Column, Record]:
    """March columns through weather.

    Arguments: column to start from, weather (R steps), settings, actions at their times, step_s longest step
    [s], shade_frac of the sun kept off (columns,) [0-1], keep names to write down. Returns: the column at the
    end and Record. Errors: OutOfRangeError for impossible weather. Validity: deterministic; a march stopped
    and taken up again between weather steps gives the same numbers.
    """
    force = coefficients(weather, settings, column.columns)
    shade = np.broadcast_to(np.asarray(shade_frac, dtype=float), (column.columns,))
    hold_s = np.asarray(weather.hold_s, dtype=float)
    values = {name: np.empty((len(hold_s), column.columns)) for name in keep}
    waiting, clock = sorted(actions, key=lambda a: a.at_s), 0.0
    for row, length_s in enumerate(hold_s.tolist()):
        now = at_step(force, row)
        tally = _Tally(column.columns)
        before = column
        due = [a for a in waiting if a.at_s < clock + length_s]
        waiting = waiting[len(due) :]
        column = _march_row(column, now, settings, shade, (clock, length_s), step_s, due, tally)
        clock += length_s
        _write(values, row, before, column, now, tally, length_s, settings)
    return column, Record(values)


def _march_row(
    column: Column,
    force: Forcing,
    settings: Settings,
    shade: Floats,
    span: tuple[float, float],
    step_s: float,
    due: list[Action],
    tally: _Tally,
) -> Column:
    """One weather step, cut at the actions and into steps no longer than step_s."""
    start, length_s = span
    at = start
    for end, action in [*((max(a.at_s, start), a) for a in due), (start + length_s, None)]:
        pieces = math.ceil((end - at) / step_s - 1e-9)
        for _ in range(pieces):
            column = _advance(column, force, settings, shade, (end - at) / pieces, tally)
        at = end
        if action is not None:
            column, gain = apply(column, action, settings)
            tally.gain(gain)
    return column


def _advance(
    column: Column, force: Forcing, settings: Settings, shade: Floats, hold_s: float, tally: _Tally
) -> Column:
    if settings.phase_change:
        column, gain = precipitate(column, force, settings, hold_s)
        tally.gain(gain)
    top = top_of(column, force, settings, shade, hold_s)
    step = step_heat(column, force, top, settings, hold_s)
    column = step.column
    for sum_, value in zip(tally.fluxes, (*step.heat, step.into_base), strict=True):
        sum_ += value * hold_s
    if not settings.phase_change:
        return column
    if settings.vapour_mass:
        column, gain = evaporate(column, step.heat.latent, top, settings, hold_s)
        tally.gain(gain)
    column = flood_by_weight(drain_snow(age_snow(column, settings, hold_s), settings), settings)
    return tidy(column, settings)


def _write(
    values: dict[str, Floats],
    row: int,
    before: Column,
    after: Column,
    force: Forcing,
    tally: _Tally,
    length_s: float,
    settings: Settings,
) -> None:
    fluxes = tally.fluxes / length_s
    found = dict(zip(FLUXES, fluxes, strict=True))
    found["energy_residual_wm2"] = (after.heat_jm2 - before.heat_jm2 - tally.heat) / length_s - fluxes.sum(
        axis=0
    )
    found["mass_residual_kgm2"] = after.mass_kgm2 - before.mass_kgm2 - tally.mass
    if any(name in values for name in (*STATES, WET)):
        found |= depths(after, settings, force.snow_m)
    for name, column in values.items():
        column[row] = found[name]


def depths(column: Column, settings: Settings, measured_snow_m: Floats | float = 0.0) -> dict[str, Floats]:
    """What a keeper would measure: depths [m] and the surface [°C].

    Arguments: column, settings, measured_snow_m [m] where it stands in for marched snow. Returns: dict.
    """
    solid, grains, liquid, _ = column.phases(settings)
    loose = np.maximum(column.cells[MASS, :, 1:] - solid, 1e-12)
    drowned = np.minimum(liquid, grains * (1 - SLUSH_GRAINS) / SLUSH_GRAINS)
    slushy = np.where(column.cells[GRAINS, :, 1:] >= SLUSH_GRAINS, liquid, drowned)
    slushy = np.where(loose > 1e-9, slushy, 0.0)
    rho_i, rho_w = settings.rho_ice_kgm3, settings.rho_water_kgm3
    upper = np.minimum(column.cells[UPPER, :, 1:], solid)
    under = np.cumsum(solid[:, ::-1], axis=1)[:, ::-1]
    held = (under - np.where(liquid > 0, upper, solid) > 1e-6) | (under[:, :1] <= 0)
    white = solid * column.cells[WHITE, :, 1:]
    return {
        "ice_m": solid.sum(axis=1) / rho_i,
        "white_ice_m": white.sum(axis=1) / rho_i,
        "water_m": (liquid - slushy).sum(axis=1) / rho_w,
        "snow_m": column.snow_m + measured_snow_m,
        "slush_m": (grains / rho_i + slushy / rho_w).sum(axis=1),
        "surface_c": column.surface_c,
        WET: np.where(held, liquid / rho_w + grains / rho_i, 0.0).sum(axis=1),
    }
