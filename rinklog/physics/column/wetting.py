"""Snow and water that come, go and mix: precipitation, evaporation, wet snow, slush, flooding by weight."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from rinklog.physics.column.balance import Top
from rinklog.physics.column.forcing import Forcing
from rinklog.physics.column.layers import push
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
    pack,
)
from rinklog.physics.constants import ALBEDO
from rinklog.physics.snow import new_hedstrom_pomeroy_kgm3, settled_kgm3

FRESH_KGM2 = 3.0
"""New snow that makes the surface bright again [kg/m²], from memory."""
FADE_DRY_S, FADE_WET_S = 5 * 86400.0, 86400.0
"""Time in which snow loses most of its freshness [s], from memory."""
THICK_KGM2 = 6.0
"""Water that comes on top joins the first parcel while that is thinner than this [kg/m²]."""


class Gain(NamedTuple):
    """What came from outside the column: mass [kg/m²] and heat [J/m²], (columns,)."""

    mass: Floats
    heat: Floats


def precipitate(column: Column, force: Forcing, settings: Settings, hold_s: float) -> tuple[Column, Gain]:
    """Let rain and snow fall; what falls on a cover never reaches the column.

    Arguments: column, force, settings, hold_s [s]. Returns: column, Gain.
    """
    none = np.zeros(column.columns)
    if not (force.rain_kgm2s.any() or force.snow_kgm2s.any()):
        return column, Gain(none, none)
    above = force.air_c - settings.freezing_c
    rain = np.where(column.covered, 0.0, force.rain_kgm2s * hold_s)
    snow = np.where(column.covered, 0.0, force.snow_kgm2s * hold_s)
    rain_heat = rain * (settings.latent_jkg + settings.c_water_jkgk * np.maximum(above, 0.0))
    snow_heat = snow * settings.c_ice_jkgk * np.minimum(above, 0.0)
    sinks = _takes_snow(column, snow, settings)
    column = _add(
        column, 1, np.where(sinks, snow, 0.0), np.where(sinks, snow_heat, 0.0), settings, grains=True
    )
    column = _snowfall(column, np.where(sinks, 0.0, snow), np.where(sinks, 0.0, snow_heat), force)
    on_snow = column.cells[MASS, :, 0] > 0
    column = _add(column, 0, np.where(on_snow, rain, 0.0), np.where(on_snow, rain_heat, 0.0), settings)
    column = _add(column, 1, np.where(on_snow, 0.0, rain), np.where(on_snow, 0.0, rain_heat), settings)
    return column, Gain(rain + snow, rain_heat + snow_heat)


def _takes_snow(column: Column, snow: Floats, settings: Settings) -> Bools:
    """Whether snow falls into open water that is not yet full of grains."""
    mass, heat, upper, grains, _ = column.cells[:, :, 1]
    wet = (heat > 0) & (upper <= 0) & (column.cells[MASS, :, 0] <= 0)
    water = np.minimum(heat / settings.latent_jkg, mass)
    loose = grains * (mass - front_ice_kgm2(mass, heat, grains, settings))
    room = settings.slush_solid_frac / (1 - settings.slush_solid_frac) * water
    return np.asarray(wet & (water > 0.2) & (loose + snow < room))


def _snowfall(column: Column, snow: Floats, heat: Floats, force: Forcing) -> Column:
    if not snow.any():
        return column
    fresh = new_hedstrom_pomeroy_kgm3(np.clip(force.air_c, -60.0, 2.0))
    cells = column.cells.copy()
    old = cells[MASS, :, 0]
    depth = old / column.snow_kgm3 + snow / fresh
    density = np.where(depth > 0, (old + snow) / np.maximum(depth, 1e-12), column.snow_kgm3)
    cells[MASS, :, 0] += snow
    cells[HEAT, :, 0] += heat
    brighter = (ALBEDO["fresh snow"] - column.snow_albedo) * (1 - np.exp(-snow / FRESH_KGM2))
    first = (old <= 0) & (snow > 0)
    albedo = np.where(first, ALBEDO["fresh snow"], column.snow_albedo + brighter)
    return replace(column, cells=cells, snow_kgm3=density, snow_albedo=albedo)


def _add(
    column: Column,
    at: int,
    mass: Floats,
    heat: Floats,
    settings: Settings,
    grains: bool = False,
    white: bool = False,
) -> Column:
    """Mix water or grains into one parcel without moving its fronts."""
    if not mass.any():
        return column
    cells = column.cells.copy()
    old_mass, old_heat, _, share, old_white = (v.copy() for v in cells[:, :, at])
    front = front_ice_kgm2(old_mass, old_heat, share, settings)
    loose = np.where(old_heat > 0, share * (old_mass - front), 0.0) + (mass if grains else 0.0)
    cells[MASS, :, at] += mass
    cells[HEAT, :, at] += heat
    total = cells[MASS, :, at]
    frozen = np.clip(total - cells[HEAT, :, at] / settings.latent_jkg, 0.0, total)
    loose = np.minimum(loose, frozen)
    rest = total - (frozen - loose)
    cells[GRAINS, :, at] = np.where(rest > 1e-12, np.minimum(loose / np.maximum(rest, 1e-12), 0.95), 0.0)
    part = mass if grains or white else 0.0
    cells[WHITE, :, at] = (old_white * old_mass + part) / np.maximum(total, 1e-12)
    cells[UPPER, :, at] = np.minimum(cells[UPPER, :, at], frozen - loose)
    return replace(column, cells=cells)


def age_snow(column: Column, settings: Settings, hold_s: float) -> Column:
    """Let snow settle and darken: faster while it is wet.

    Arguments: column, settings, hold_s [s]. Returns: Column. Source: settling Verseghy 1991; fading of
    albedo from memory.
    """
    snow = column.cells[MASS, :, 0] > 0
    if not snow.any():
        return column
    wet = column.cells[HEAT, :, 0] > 0
    settled = settled_kgm3(column.snow_kgm3, hold_s / 3600, np.where(wet, 500.0, 300.0))
    goal = np.where(wet, ALBEDO["melting snow"], ALBEDO["old snow"])
    gap = np.maximum(column.snow_albedo - goal, 0.0)
    faded = column.snow_albedo - gap * (1 - np.exp(-hold_s / np.where(wet, FADE_WET_S, FADE_DRY_S)))
    return replace(
        column,
        snow_kgm3=np.where(snow, settled, column.snow_kgm3),
        snow_albedo=np.where(snow, faded, column.snow_albedo),
    )


def drain_snow(column: Column, settings: Settings) -> Column:
    """Let water that snow cannot hold run to its foot and drown the lowest snow as slush.

    Arguments: column, settings. Returns: Column, nothing lost. Validity: any.
    """
    mass, heat = column.cells[MASS, :, 0], column.cells[HEAT, :, 0]
    water = np.clip(heat / settings.latent_jkg, 0.0, mass)
    held = settings.snow_holds_frac * (mass - water)
    gone = (mass > 0) & (mass - water < 1e-3) & (water > 0)
    excess = np.where(gone, mass, np.maximum(water - held, 0.0))
    if not (excess > 1e-9).any():
        return column
    cells = column.cells.copy()
    excess_heat = np.where(gone, heat, excess * settings.latent_jkg)
    cells[MASS, :, 0] = np.where(gone, 0.0, mass - excess)
    cells[HEAT, :, 0] = np.where(gone, 0.0, heat - excess_heat)
    return soak(replace(column, cells=cells), excess, excess_heat, settings)


def soak(column: Column, water: Floats, heat: Floats, settings: Settings) -> Column:
    """Lay water on the ice; where snow lies, the lowest snow drowns in it and is slush.

    Arguments: column, water [kg/m²], its heat [J/m²], settings. Returns: Column. Source: volume balance of
    saturated snow, as physics.snow.pore_water_kgm3.
    """
    wet = water > 0
    if not wet.any():
        return column
    cells = column.cells.copy()
    snow, snow_heat = cells[MASS, :, 0], cells[HEAT, :, 0]
    pores = settings.rho_water_kgm3 * (1 / np.minimum(column.snow_kgm3, 800.0) - 1 / settings.rho_ice_kgm3)
    drowned = np.where(wet, np.minimum(snow, water / pores), 0.0)
    drowned = np.where(snow - drowned < 1e-3, np.where(wet, snow, 0.0), drowned)
    share = np.where(snow > 0, drowned / np.maximum(snow, 1e-12), 0.0)
    taken_heat = snow_heat * share
    cells[MASS, :, 0] = np.where(share >= 1, 0.0, snow - drowned)
    cells[HEAT, :, 0] = np.where(share >= 1, 0.0, snow_heat - taken_heat)
    column = replace(column, cells=cells)
    mass, total_heat = water + drowned, heat + taken_heat
    join = wet & _joins(column, settings)
    grains = np.where(join, drowned, 0.0)
    column = _add(column, 1, np.where(join, water, 0.0), np.where(join, heat, 0.0), settings)
    column = _add(column, 1, grains, np.where(join, taken_heat, 0.0), settings, grains=True)
    frozen = np.clip(mass - np.maximum(total_heat, 0.0) / settings.latent_jkg, 0.0, mass)
    loose = np.where(mass > 0, np.minimum(frozen / np.maximum(mass, 1e-12), 0.95), 0.0)
    white = np.where(drowned > 0, 1.0, 0.0)
    parcel = np.stack([mass, total_heat, np.zeros_like(mass), np.where(total_heat > 0, loose, 0.0), white])
    return push(column, wet & ~join, parcel, settings)


def _joins(column: Column, settings: Settings) -> Bools:
    """Whether new water joins the first parcel: that is thin and has water on it, or there is nothing."""
    mass, heat, upper, _, _ = column.cells[:, :, 1]
    thin = (mass < THICK_KGM2) & ((heat > 0) & (upper <= 0) | (mass < 1.0))
    return np.asarray((mass <= 0) | thin)


def evaporate(
    column: Column, latent_wm2: Floats, top: Top, settings: Settings, hold_s: float
) -> tuple[Column, Gain]:
    """Take or give the mass that goes with the latent heat.

    Arguments: column, latent_wm2 to the surface, top, settings, hold_s [s]. Returns: column, Gain.
    """
    gain = latent_wm2 * hold_s / top.latent_jkg
    if not gain.any():
        return column, Gain(gain, np.zeros_like(gain))
    cells = column.cells.copy()
    rows, first = np.arange(len(gain)), np.where(cells[MASS, :, 0] > 0, 0, 1)
    top_parcel = cells[:, rows, first][:, :, None]
    if (top_parcel[MASS, :, 0] + gain > 0.01).all():
        lost_heat = _take(top_parcel, -gain[:, None], (first == 0)[:, None], settings)
        cells[:, rows, first] = top_parcel[:, :, 0]
        return replace(column, cells=cells), Gain(gain, -lost_heat)
    mass = cells[MASS]
    kept = np.maximum(np.cumsum(mass, axis=1) + np.minimum(gain, 0.0)[:, None], 0.0)
    lost = np.maximum(mass - np.diff(kept, axis=1, prepend=0.0), 0.0)
    lost[rows, first] -= np.maximum(gain, 0.0)
    snow = np.zeros(mass.shape, dtype=bool)
    snow[:, 0] = True
    lost_heat = _take(cells, lost, snow, settings)
    if ((mass[:, 1] <= 0) & (mass[:, 2] > 0)).any():
        cells = pack(cells)
    return replace(column, cells=cells), Gain(gain, -lost_heat)


def _take(cells: Floats, lost: Floats, snow: Bools, settings: Settings) -> Floats:
    """Take mass out of parcels in place, with the heat it has. Returns: that heat of each column [J/m²]."""
    mass, heat, grains = cells[MASS], cells[HEAT], cells[GRAINS]
    lost_heat = _heat_of(cells, lost, snow, settings)
    loose = grains * (mass - front_ice_kgm2(mass, heat, grains, settings))
    mass -= lost
    heat -= lost_heat
    refit(cells, loose, settings)
    return np.asarray(lost_heat.sum(axis=1))


def _heat_of(cells: Floats, lost: Floats, snow: Bools, settings: Settings) -> Floats:
    """Heat that lost mass takes along: water goes first where it lies on top, ice first where that does."""
    mass, heat, upper = cells[MASS], cells[HEAT], cells[UPPER]
    latent = settings.latent_jkg
    plain = lost * (heat / np.maximum(mass, 1e-12))
    water = np.clip(heat / latent, 0.0, mass)
    wet = (upper <= 0) & ~snow
    part = np.where(wet, np.minimum(lost, water), np.maximum(lost - (mass - water), 0.0)) * latent
    mixed = (heat > 0) & (heat < latent * mass)
    return np.asarray(np.where(mixed, part, np.where(lost >= mass, heat, plain)))


def refit(cells: Floats, loose: Floats, settings: Settings) -> None:
    """Make grains and fronts fit the mass and heat again, in place."""
    mass, heat = cells[MASS], cells[HEAT]
    np.maximum(mass, 0.0, out=mass)
    heat[mass <= 0] = 0.0
    mixed = (heat > 0) & (heat < settings.latent_jkg * mass)
    frozen = np.clip(mass - heat / settings.latent_jkg, 0.0, mass)
    loose = np.minimum(loose, frozen)
    rest = np.maximum(mass - frozen + loose, 1e-12)
    cells[GRAINS] = np.where(mixed, np.minimum(loose / rest, 0.95), 0.0)
    cells[UPPER] = np.where(mixed, np.minimum(cells[UPPER], frozen - loose), 0.0)


def flood_by_weight(column: Column, settings: Settings) -> Column:
    """Let water from beneath rise into snow that presses FLOATING ice under; frozen to the base, none rises.

    Arguments: column, settings. Returns: Column, nothing lost. Validity: taken as instant, and water is taken
    to find its way up through cracks. Source: Archimedes, as physics.snow.slush_m.
    """
    snow = column.cells[MASS, :, 0]
    if not (snow > 0).any():
        return column
    mass, heat, upper, grains, _ = column.cells[:, :, 1:]
    last = np.maximum((mass > 0).sum(axis=1) - 1, 0)
    rows = np.arange(column.columns)
    front = front_ice_kgm2(mass, heat, grains, settings)
    floor_ice = (front - upper)[rows, last]
    latent = settings.latent_jkg
    water = np.clip(np.minimum(heat, latent * mass)[rows, last] / latent, 0.0, None)
    ice = front.sum(axis=1) + (grains * (mass - front)).sum(axis=1)
    over = snow - ice * (settings.rho_water_kgm3 / settings.rho_ice_kgm3 - 1)
    floats = (floor_ice <= 1e-9) & (ice > 0.5) & (water > 0.5)
    drowned = np.where(floats, np.maximum(over, 0.0) * settings.rho_ice_kgm3 / settings.rho_water_kgm3, 0.0)
    pores = settings.rho_water_kgm3 * (1 / np.minimum(column.snow_kgm3, 800.0) - 1 / settings.rho_ice_kgm3)
    rising = np.minimum(drowned * pores, np.maximum(water - 0.5, 0.0))
    rising = np.where(rising > 0.1, rising, 0.0)
    if not rising.any():
        return column
    cells = column.cells.copy()
    loose = cells[GRAINS, :, 1:] * (mass - front)
    per_kg = np.maximum(latent, heat[rows, last] / np.maximum(mass[rows, last], 1e-12))
    lifted = rising * np.where(heat[rows, last] >= latent * mass[rows, last], per_kg, latent)
    cells[MASS, rows, last + 1] -= rising
    cells[HEAT, rows, last + 1] -= lifted
    part = cells[:, :, 1:]
    refit(part, loose, settings)
    cells[:, :, 1:] = part
    return soak(replace(column, cells=cells), rising, lifted, settings)
