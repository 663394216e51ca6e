"""What is marched: parcels of ice and water, snow on top, a cover perhaps."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rinklog.physics.column.settings import Settings
from rinklog.physics.constants import ALBEDO

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

MASS, HEAT, UPPER, GRAINS, WHITE = range(5)
"""Fields of a parcel: mass [kg/m²]; heat above ice at freezing [J/m²]; ice on its upper side [kg/m²]; share
of loose grains (slush) in what is not yet front ice [1]; share that is white once frozen [1]."""
PARCELS = 20
ICE_PARCELS = 12
GRADE = 1.3
LEAST_KGM2 = 1.0
"""A slab starts as 12 parcels, each 1.3 times the one above: fine where the weather is felt; at least 1 kg/m²."""
DUST_KGM2 = 1e-6
"""What is lighter was emptied, and has a temperature in name only."""


class Phases(NamedTuple):
    """Parcels split by phase [kg/m²], and temperature above freezing [K]; shape (columns, parcels)."""

    solid: Floats
    grains: Floats
    liquid: Floats
    above_k: Floats


@dataclass(frozen=True)
class Column:
    """State of C columns: parcel 0 is the snow, parcels 1.. go down; empty parcels lie at the bottom."""

    cells: Floats
    snow_kgm3: Floats
    snow_albedo: Floats
    surface_c: Floats
    covered: Bools

    @classmethod
    def start(
        cls,
        settings: Settings,
        columns: int = 1,
        *,
        ice_m: ArrayLike = 0.0,
        water_m: ArrayLike = 0.0,
        coat_m: ArrayLike = 0.0,
        snow_m: ArrayLike = 0.0,
        ice_c: ArrayLike | None = None,
        snow_kgm3: ArrayLike = 250.0,
        coat_c: ArrayLike | None = None,
        water_c: ArrayLike | None = None,
    ) -> Column:
        """A column at rest: water beneath, a uniform slab of ice, a coat of water on it, snow on top.

        Arguments: depths [m], temperatures [°C] (None is freezing), snow_kgm3. Returns: Column. Errors:
        ValueError for a negative depth, ice above or water below freezing.
        """
        ice, water, coat, snow = (_each(v, columns, "depth") for v in (ice_m, water_m, coat_m, snow_m))
        cold = np.zeros(columns) if ice_c is None else _each(ice_c, columns) - settings.freezing_c
        warm = [
            np.zeros(columns) if c is None else _each(c, columns) - settings.freezing_c
            for c in (coat_c, water_c)
        ]
        if np.any(cold > 0) or any(np.any(w < 0) for w in warm):
            raise ValueError("ice cannot be above freezing, nor water below it")
        cells = np.zeros((5, columns, PARCELS + 1))
        density = _each(snow_kgm3, columns)
        cells[MASS, :, 0] = snow * density
        cells[HEAT, :, 0] = snow * density * settings.c_ice_jkgk * cold
        grades = GRADE ** np.arange(ICE_PARCELS)
        floors = ice[:, None] * settings.rho_ice_kgm3 * np.cumsum(grades) / grades.sum()
        floors[:, :-1] = np.where(floors[:, :-1] < LEAST_KGM2, 0.0, floors[:, :-1])
        parts = np.diff(floors, axis=1, prepend=0.0)
        cells[MASS, :, 1] = coat * settings.rho_water_kgm3
        cells[MASS, :, 2 : 2 + ICE_PARCELS] = parts
        cells[MASS, :, 2 + ICE_PARCELS] = water * settings.rho_water_kgm3
        cells[HEAT, :, 2 : 2 + ICE_PARCELS] = parts * settings.c_ice_jkgk * cold[:, None]
        for at, temperature in ((1, warm[0]), (2 + ICE_PARCELS, warm[1])):
            per_kg = settings.latent_jkg + settings.c_water_jkgk * temperature
            cells[HEAT, :, at] = cells[MASS, :, at] * per_kg
        packed = pack(cells)
        return cls(
            packed,
            density,
            np.full(columns, ALBEDO["old snow"]),
            np.where(coat > 0, warm[0], cold) + settings.freezing_c,
            np.zeros(columns, dtype=bool),
        )

    @property
    def columns(self) -> int:
        """How many columns are marched together."""
        return int(self.cells.shape[1])

    @property
    def mass_kgm2(self) -> Floats:
        """Water substance of all phases [kg/m²] of each column."""
        return np.asarray(self.cells[MASS].sum(axis=1))

    @property
    def heat_jm2(self) -> Floats:
        """Heat above ice at freezing [J/m²] of each column."""
        return np.asarray(self.cells[HEAT].sum(axis=1))

    @property
    def snow_m(self) -> Floats:
        """Depth of snow [m]."""
        return self.cells[MASS, :, 0] / self.snow_kgm3

    def phases(self, settings: Settings) -> Phases:
        """Ice, grains and water of the parcels under the snow. Arguments: settings. Returns: Phases."""
        mass, heat, _, grains, _ = self.cells[:, :, 1:]
        front = front_ice_kgm2(mass, heat, grains, settings)
        loose = np.minimum(grains * (mass - front), np.maximum(mass - heat / settings.latent_jkg - front, 0))
        front = front - owed_kgm2(self, front, settings)
        return Phases(front, loose, mass - front - loose, above_freezing_k(mass, heat, settings))

    def copy(self) -> Column:
        """A copy that shares nothing."""
        return Column(**{name: np.array(getattr(self, name)) for name in self.__dataclass_fields__})

    def repeat(self, times: int) -> Column:
        """Every column `times` over, members fastest. Arguments: times. Returns: Column."""
        cells = np.repeat(self.cells, times, axis=1)
        others = ("snow_kgm3", "snow_albedo", "surface_c", "covered")
        return replace(self, cells=cells, **{n: np.repeat(getattr(self, n), times) for n in others})

    def to_dict(self) -> dict[str, Any]:
        """The whole state as plain lists, exact when it goes through JSON and back."""
        return {name: getattr(self, name).tolist() for name in self.__dataclass_fields__}

    @classmethod
    def from_dict(cls, data: dict[str, Any]) -> Column:
        """The state that to_dict wrote. Errors: KeyError or ValueError when it is not one."""
        fields = {name: np.array(data[name], dtype=float) for name in cls.__dataclass_fields__}
        cells, rest = fields["cells"], [v for n, v in fields.items() if n != "cells"]
        if cells.ndim != 3 or len(cells) != 5 or any(v.shape != cells.shape[1:2] for v in rest):
            raise ValueError("not a saved column: the shapes do not fit")
        return cls(**{**fields, "covered": fields["covered"].astype(bool)})


def above_freezing_k(mass: Floats, heat: Floats, settings: Settings) -> Floats:
    """Temperature above freezing [K] from mass [kg/m²] and heat [J/m²]; 0 where ice meets water."""
    safe = np.maximum(mass, 1e-12)
    if not settings.phase_change:
        return heat / (settings.c_ice_jkgk * safe)
    cold = np.minimum(heat, 0.0) / (settings.c_ice_jkgk * safe)
    return cold + np.maximum(heat - settings.latent_jkg * mass, 0.0) / (settings.c_water_jkgk * safe)


def front_ice_kgm2(mass: Floats, heat: Floats, grains: Floats, settings: Settings) -> Floats:
    """Solid ice of parcels [kg/m²], not counting loose grains, from mass [kg/m²], heat [J/m²], grains [1]."""
    frozen = mass - heat / settings.latent_jkg
    front = np.minimum(np.maximum((frozen - grains * mass) / (1 - grains), 0.0), mass)
    return np.where(heat <= 0, mass, front)


def owed_kgm2(column: Column, front: Floats, settings: Settings) -> Floats:
    """Ice of a front that is counted although its own cold has yet to be taken from it [kg/m²].

    A parcel with ice and water stays at freezing, but its ice is as cold as what lies over it. Without this, ice
    would grow too fast until its front becomes a parcel of its own, then start again.
    Arguments: column, front of its parcels [kg/m²], settings. Returns: [kg/m²]. Validity: a front's temperature
    taken as a line from its cold side to freezing.
    """
    mass, heat, upper, grains, _ = column.cells[:, :, 1:]
    mixed = (heat > 0) & (heat < settings.latent_jkg * mass)
    if not (mixed.any() and settings.phase_change):
        return np.zeros_like(front)
    cold = np.where(mass > DUST_KGM2, np.maximum(-above_freezing_k(mass, heat, settings), 0.0), 0.0)
    up, down = np.zeros_like(front), np.zeros_like(front)
    upper = np.minimum(upper, front)  # what melts from below leaves less ice than once hung on the upper side
    low = front - upper
    up[:, 1:] = cold[:, :-1] * upper[:, 1:] / (mass[:, :-1] / 2 + upper[:, 1:] + 1e-12) * upper[:, 1:] / 2
    bare = column.cells[MASS, :, 0] <= 0
    up[:, 0] = np.where(bare, np.maximum(settings.freezing_c - column.surface_c, 0) * upper[:, 0] / 2, 0)
    down[:, :-1] = cold[:, 1:] * low[:, :-1] / (mass[:, 1:] / 2 + low[:, :-1] + 1e-12) * low[:, :-1] / 2
    return np.where(mixed, (up + down) * (settings.c_ice_jkgk / settings.latent_jkg), 0.0)


def _each(value: ArrayLike, columns: int, kind: str = "") -> Floats:
    values = np.array(np.broadcast_to(np.asarray(value, dtype=float), (columns,)))
    if not np.isfinite(values).all() or (kind and (values < 0).any()):
        raise ValueError(f"a {kind or 'temperature'} of the start is negative or not a finite number")
    return values


def pack(cells: Floats) -> Floats:
    """Move empty parcels to the bottom, keeping the order of the others."""
    empty = cells[MASS, :, 1:] <= 0
    order = np.argsort(empty, axis=1, kind="stable")
    packed = cells.copy()
    packed[:, :, 1:] = np.take_along_axis(cells[:, :, 1:], order[None], axis=2)
    return packed
