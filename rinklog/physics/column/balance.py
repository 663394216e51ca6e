"""The surface: what lies on top, what heat it takes at a given temperature, and the slope of that."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from rinklog.physics.column.forcing import Forcing
from rinklog.physics.column.settings import Settings
from rinklog.physics.column.state import HEAT, MASS, UPPER, Bools, Column, Floats, above_freezing_k
from rinklog.physics.constants import ALBEDO, EVAPORATION_JKG, SIGMA_WM2K4, SUBLIMATION_JKG, ZERO_C_K

THIN_SNOW_M = 0.02
"""Depth at which snow hides most of the ice from the sun [m], from memory."""
FILM_KGM2 = 0.2
"""Less water than this on ice does not darken it."""

CURVE_C = (-100.0, 60.0)
"""Range of the vapour curve [°C]; it goes on straight beyond, where only an iteration passes through."""
WATER_CURVE, ICE_CURVE = np.array([17.62, 243.12]), np.array([22.46, 272.62])


class Top(NamedTuple):
    """What the surface is during one step; arrays (columns,)."""

    sun_wm2: Floats
    emissivity: Floats
    latent_jkg: Floats
    vapour_wm2pa: Floats
    curve: Floats
    """Factor and shift [°C] of the Magnus curve, (columns, 2)."""
    contact_m2kw: Floats
    may_thaw: Bools
    """The surface cannot pass freezing: it is ice or snow."""
    wet: Bools


class Terms(NamedTuple):
    """Heat to the surface [W/m²], positive to the column."""

    sun: Floats
    longwave: Floats
    sensible: Floats
    latent: Floats


def top_of(column: Column, force: Forcing, settings: Settings, shade_frac: Floats, hold_s: float) -> Top:
    """What lies on top at the start of a step.

    Arguments: column, force of the step, settings, shade_frac [0-1] (columns,), hold_s [s]. Returns: Top.
    """
    mass, heat = column.cells[MASS], column.cells[HEAT]
    snowy = mass[:, 0] > 0
    latent = settings.latent_jkg * mass[:, 1]
    liquid = ~snowy & (heat[:, 1] >= latent) & (mass[:, 1] > 0)
    film = ~snowy & (heat[:, 1] > 0) & (column.cells[UPPER, :, 1] <= 0) & (mass[:, 1] > 0)
    wet = (liquid | film) if settings.phase_change else np.zeros_like(snowy)
    covered = column.covered
    dark = np.where(covered, settings.cover_albedo, _albedo(column, force, settings, film))
    latent_jkg = np.where(wet, EVAPORATION_JKG, SUBLIMATION_JKG)
    carried = force.vapour_wm2pa * latent_jkg / SUBLIMATION_JKG
    curve = np.where(wet[:, None], WATER_CURVE, ICE_CURVE)
    total = mass.sum(axis=1)
    most_kgm2 = _most_vapour_kgm2(column, force, settings, curve, hold_s)
    carried = np.where(covered | (total < most_kgm2 + 0.1), 0.0, carried)
    contact = np.where(covered, settings.cover_contact_m2kw, 0.0)
    thaws = ~covered & ~liquid & (force.snow_m <= 0) & (total > 0)
    if not settings.phase_change:
        thaws = np.zeros_like(thaws)
    emissivity = np.where(covered, settings.cover_emissivity, settings.emissivity)
    sun = (1 - dark) * (1 - shade_frac) * force.sun_wm2
    return Top(sun, emissivity, latent_jkg, carried, curve, contact, thaws, wet)


def _most_vapour_kgm2(
    column: Column, force: Forcing, settings: Settings, curve: Floats, hold_s: float
) -> Floats:
    """More than can evaporate in the step: a column with less has none to give (a dry floor, a last film)."""
    mass, heat = column.cells[MASS, :, 1], column.cells[HEAT, :, 1]
    parcel_c = above_freezing_k(mass, heat, settings) + settings.freezing_c
    warmest = np.maximum(np.maximum(column.surface_c, parcel_c), force.air_c)
    pressure, _ = _saturation(warmest, curve)
    return force.vapour_wm2pa * (1500.0 + 1.5 * pressure) * hold_s / SUBLIMATION_JKG


def _albedo(column: Column, force: Forcing, settings: Settings, film: Bools) -> Floats:
    if settings.albedo is not None:
        return np.full(column.columns, settings.albedo)
    mass, heat = column.cells[MASS, :, 1], column.cells[HEAT, :, 1]
    water = np.minimum(heat / settings.latent_jkg, mass)
    deep = film & (water > 50)
    bare = np.where(heat >= 0, ALBEDO["melting ice"], ALBEDO["ice"])
    bare = np.where(film & (water > FILM_KGM2), ALBEDO["water film"], bare)
    bare = np.where(deep | (mass <= 0), ALBEDO["open water"], bare)
    depth = np.where(force.snow_m > 0, force.snow_m, column.snow_m)
    return np.asarray(bare + (column.snow_albedo - bare) * (1 - np.exp(-depth / THIN_SNOW_M)))


def terms(surface_c: Floats, top: Top, force: Forcing, settings: Settings) -> Terms:
    """Heat to a surface of known temperature.

    Arguments: surface_c [°C], top, force, settings. Returns: Terms [W/m²]. Source: reference formulas of
    physics.radiation and physics.surface; vapour over water on a wet surface, else over ice.
    """
    sensible = force.exchange_wm2k * (force.air_c - surface_c)
    if settings.surface == "air":
        none = np.zeros_like(sensible)
        return Terms(none, none, sensible, none)
    longwave = top.emissivity * (force.longwave_wm2 - SIGMA_WM2K4 * (surface_c + ZERO_C_K) ** 4)
    vapour, _ = _saturation(surface_c, top.curve)
    return Terms(top.sun_wm2, longwave, sensible, top.vapour_wm2pa * (force.vapour_pa - vapour))


def linear(surface_c: Floats, top: Top, force: Forcing, settings: Settings) -> tuple[Floats, Floats]:
    """Heat to the surface as A - B (T - freezing), tangent at surface_c.

    Arguments: surface_c [°C], top, force, settings. Returns: A [W/m²], B [W/m²/K].
    """
    if settings.surface == "air":
        return force.exchange_wm2k * (force.air_c - settings.freezing_c), force.exchange_wm2k
    kelvin = surface_c + ZERO_C_K
    black = top.emissivity * SIGMA_WM2K4 * kelvin**3
    vapour, slope = _saturation(surface_c, top.curve)
    taken = (
        top.sun_wm2
        + top.emissivity * force.longwave_wm2
        - black * kelvin
        + force.exchange_wm2k * (force.air_c - surface_c)
        + top.vapour_wm2pa * (force.vapour_pa - vapour)
    )
    steep = 4 * black + force.exchange_wm2k + top.vapour_wm2pa * slope
    return taken + steep * (surface_c - settings.freezing_c), steep


def _saturation(surface_c: Floats, curve: Floats) -> tuple[Floats, Floats]:
    """Saturation pressure over the surface [Pa] and its slope [Pa/K] (Magnus, WMO No. 8)."""
    factor, shift = curve[:, 0], curve[:, 1]
    t = np.clip(surface_c, *CURVE_C)
    pressure = 611.2 * np.exp(factor * t / (shift + t))
    slope = pressure * factor * shift / (shift + t) ** 2
    return pressure + slope * (surface_c - t), slope
