"""Keep parcels fine where it matters: peel frozen fronts off as parcels of their own, join the needless."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

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
    front_ice_kgm2,
)

Ints = NDArray[np.intp]
PEEL_KGM2 = 2.0
PEEL_SHARE = 0.05
"""A front becomes a parcel at 2 kg/m², or a twentieth of what lies above it where that is more."""
WIDE_SHARE = 0.3
THIN_KGM2 = 0.5
"""Ice thinner than this needs no parcel of its own."""
NEVER = 1e6


def tidy(column: Column, settings: Settings) -> Column:
    """Peel one front per column where one has grown enough, and join needless parcels.

    Arguments: column, settings. Returns: Column with the same mass, heat and phases.
    """
    column = _join_like(column, settings)
    mass, heat, upper, grains, _ = column.cells[:, :, 1:]
    mixed = (heat > 0) & (heat < settings.latent_jkg * mass)
    if not mixed.any():
        return column
    front = np.where(mixed, front_ice_kgm2(mass, heat, grains, settings), 0.0)
    least = np.maximum(PEEL_KGM2, PEEL_SHARE * (np.cumsum(mass, axis=1) - mass + upper))
    due = (upper > least) | (front - upper > least)
    rows = np.flatnonzero(due.any(axis=1))
    if not rows.size:
        return column
    cells = column.cells.copy()
    part = cells[:, rows, 1:]
    at = due[rows].argmax(axis=1)
    joined = _cheapest(part, settings)
    part = _join(part, joined, settings)
    at = at - (joined < at)
    cells[:, rows, 1:] = _peel(part, at, settings)
    return replace(column, cells=cells)


def _join_like(column: Column, settings: Settings) -> Column:
    """Join the first two neighbours that are all water, which turns over as one, or ice of which one is thin."""
    mass, heat = column.cells[MASS, :, 1:], column.cells[HEAT, :, 1:]
    has = mass > 0
    water, ice = has & (heat >= settings.latent_jkg * mass), has & (heat <= 0)
    thin = mass < THIN_KGM2
    pairs = water[:, :-1] & water[:, 1:] | ice[:, :-1] & ice[:, 1:] & (thin[:, :-1] | thin[:, 1:])
    rows = np.flatnonzero(pairs.any(axis=1))
    if not rows.size:
        return column
    cells = column.cells.copy()
    cells[:, rows, 1:] = _join(cells[:, rows, 1:], np.asarray(pairs[rows].argmax(axis=1)), settings)
    return replace(column, cells=cells)


def push(column: Column, where: Bools, parcel: Floats, settings: Settings) -> Column:
    """Lay a parcel on top, under the snow.

    Arguments: column, where (columns,), parcel (5, columns), settings. Returns: Column.
    """
    rows = np.flatnonzero(where)
    if not rows.size:
        return column
    cells = column.cells.copy()
    part = cells[:, rows, 1:]
    part = _join(part, _cheapest(part, settings), settings)
    cells[:, rows, 1:] = _insert(part, np.zeros(rows.size, dtype=np.intp), parcel[:, rows])
    return replace(column, cells=cells)


def _cheapest(cells: Floats, settings: Settings) -> Ints:
    """Index of the upper parcel of the pair that is joined at least loss."""
    mass, heat, upper, grains, white = cells
    latent = settings.latent_jkg * mass
    empty, solid = mass <= 0, heat <= 0
    cool = heat < latent + mass * (settings.c_water_jkgk * 0.5)
    lower = front_ice_kgm2(mass, heat, grains, settings) - upper
    open_above, open_below = cool & ~solid & (upper <= 0), cool & ~solid & (lower <= 1e-9)
    liquid = ~solid & (heat >= latent)
    like = (
        (solid[:, :-1] & solid[:, 1:])
        | (liquid[:, :-1] & liquid[:, 1:])
        | (open_below[:, :-1] & open_above[:, 1:])
    )
    depth = np.cumsum(mass, axis=1) - mass
    cost = (mass[:, :-1] + mass[:, 1:]) / (PEEL_KGM2 + WIDE_SHARE * depth[:, :-1])
    cost += np.abs(white[:, :-1] - white[:, 1:])
    cost += np.where(like, 0.0, NEVER)
    cost = np.where(empty[:, :-1] | empty[:, 1:], -1.0, cost)
    return np.asarray(cost.argmin(axis=1))


def _join(cells: Floats, at: Ints, settings: Settings) -> Floats:
    """Join parcels at and at + 1 and leave an empty one at the bottom."""
    rows = np.arange(len(at))
    above, below = cells[:, rows, at], cells[:, rows, at + 1]
    mass, heat = above[MASS] + below[MASS], above[HEAT] + below[HEAT]
    fronts = [front_ice_kgm2(p[MASS], p[HEAT], p[GRAINS], settings) for p in (above, below)]
    loose = sum(
        np.clip(p[MASS] - p[HEAT] / settings.latent_jkg - f, 0.0, None) * (p[HEAT] > 0)
        for p, f in zip((above, below), fronts, strict=True)
    )
    solid_above = above[HEAT] <= 0
    upper = np.where(solid_above, above[MASS] + below[UPPER], above[UPPER])
    frozen = np.clip(mass - heat / settings.latent_jkg, 0.0, mass)
    front = np.clip(frozen - loose, 0.0, None)
    grains = np.where(mass > front, np.minimum((frozen - front) / np.maximum(mass - front, 1e-12), 0.95), 0.0)
    mixed = (heat > 0) & (heat < settings.latent_jkg * mass)
    white = (above[WHITE] * above[MASS] + below[WHITE] * below[MASS]) / np.maximum(mass, 1e-12)
    new = np.stack(
        [mass, heat, np.where(mixed, np.minimum(upper, front), 0.0), np.where(mixed, grains, 0.0), white]
    )
    out = cells.copy()
    out[:, rows, at] = new
    places = np.arange(cells.shape[2])
    order = np.minimum(places + (places > at[:, None]), cells.shape[2] - 1)
    out = np.take_along_axis(out, order[None], axis=2)
    out[:, :, -1] = 0.0
    return out


def _insert(cells: Floats, at: Ints, parcel: Floats) -> Floats:
    """Put a parcel at its place and push the others down over the empty one at the bottom."""
    places = np.arange(cells.shape[2])
    order = places - (places > at[:, None])
    out = np.take_along_axis(cells, order[None], axis=2)
    out[:, np.arange(len(at)), at] = parcel
    return out


def _peel(cells: Floats, at: Ints, settings: Settings) -> Floats:
    """Split the thicker front off a parcel of ice and water, as cold as it lies between water and its neighbour.

    The cold costs a little of the ice that had been counted at freezing, so that heat is kept.
    """
    rows = np.arange(len(at))
    parcel = cells[:, rows, at]
    front = front_ice_kgm2(parcel[MASS], parcel[HEAT], parcel[GRAINS], settings)
    lower = front - parcel[UPPER]
    from_top = parcel[UPPER] >= lower
    counted = np.where(from_top, parcel[UPPER], lower)
    next_to = np.clip(at + np.where(from_top, -1, 1), 0, cells.shape[2] - 1)
    cold_jkg = _middle_cold_jkg(cells[:, rows, next_to], counted)
    latent = settings.latent_jkg * (1 - parcel[GRAINS])
    piece = np.zeros_like(parcel)
    piece[MASS] = counted * latent / (latent + cold_jkg)
    piece[HEAT] = -piece[MASS] * cold_jkg
    piece[WHITE] = parcel[WHITE]
    rest = parcel.copy()
    rest[MASS] -= piece[MASS]
    rest[HEAT] -= piece[HEAT]
    rest[UPPER] = np.where(from_top, 0.0, parcel[UPPER])
    out = cells.copy()
    out[:, rows, at] = np.where(from_top, rest, piece)
    return _insert(out, at, np.where(from_top, piece, rest))


def _middle_cold_jkg(neighbour: Floats, front_kgm2: Floats) -> Floats:
    """Cold of the middle of a front [J/kg], on a line from the middle of its frozen neighbour to freezing."""
    mass, heat = neighbour[MASS], neighbour[HEAT]
    cold = np.where((mass > 0) & (heat < 0), -heat / np.maximum(mass, 1e-12), 0.0)
    return np.asarray(cold * (front_kgm2 / 2) / (mass / 2 + front_kgm2))
