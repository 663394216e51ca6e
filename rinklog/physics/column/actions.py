"""What the crew does to a column at a moment: flood, clear snow, lay and lift a cover, torch, pour."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from rinklog.physics.column.settings import Settings
from rinklog.physics.column.state import GRAINS, HEAT, MASS, Bools, Column, Floats, front_ice_kgm2
from rinklog.physics.column.wetting import Gain, refit, soak

Kind = Literal["flood", "pour", "clear-snow", "lay-cover", "lift-cover", "torch"]
KINDS: tuple[Kind, ...] = ("flood", "pour", "clear-snow", "lay-cover", "lift-cover", "torch")


@dataclass(frozen=True)
class Action:
    """One deed at at_s after the start of the march [s].

    amount: water of a flood or pour [kg/m²], heat of a torch that reaches the ice [J/m²], depth of snow taken
    off [m] (None: all); one for all columns or one each (columns,). water_c [°C] of a flood or pour. where: which
    columns (None: all).
    """

    at_s: float
    kind: Kind
    amount: float | Floats | None = None
    water_c: float = 0.0
    where: Bools | None = None

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"action is {self.kind!r}; permitted: {', '.join(KINDS)}.")
        if self.kind in ("flood", "pour", "torch") and self.amount is None:
            raise ValueError(f"{self.kind} needs an amount.")


def apply(column: Column, action: Action, settings: Settings) -> tuple[Column, Gain]:
    """Do one action.

    Arguments: column, action, settings. Returns: column, Gain from outside.
    """
    here = (
        np.ones(column.columns, dtype=bool) if action.where is None else np.asarray(action.where, dtype=bool)
    )
    none = np.zeros(column.columns)
    if action.kind in ("lay-cover", "lift-cover"):
        covered = np.where(here, action.kind == "lay-cover", column.covered)
        return replace(column, covered=covered), Gain(none, none)
    if action.kind == "clear-snow":
        return _clear(column, here, action.amount)
    amount = np.where(here, 0.0 if action.amount is None else action.amount, 0.0)
    if action.kind == "torch":
        amount = np.where(column.mass_kgm2 > 0, amount, 0.0)
        return _torch(column, amount, settings), Gain(none, amount)
    warm = settings.c_water_jkgk * max(action.water_c - settings.freezing_c, 0.0)
    heat = amount * (settings.latent_jkg + warm)
    return soak(column, amount, heat, settings), Gain(amount, heat)


def _clear(column: Column, here: Bools, depth_m: float | Floats | None) -> tuple[Column, Gain]:
    cells = column.cells.copy()
    share = np.where(here, 1.0, 0.0)
    if depth_m is not None:
        share *= np.clip(depth_m / np.maximum(column.snow_m, 1e-12), 0.0, 1.0)
    lost, lost_heat = cells[MASS, :, 0] * share, cells[HEAT, :, 0] * share
    cells[MASS, :, 0] -= lost
    cells[HEAT, :, 0] -= lost_heat
    return replace(column, cells=cells), Gain(-lost, -lost_heat)


def _torch(column: Column, heat_jm2: Floats, settings: Settings) -> Column:
    """Melt from the top down; what is left when all is melted warms the uppermost."""
    cells = column.cells.copy()
    mass, heat = cells[MASS], cells[HEAT]
    room = np.maximum(settings.latent_jkg * mass - heat, 0.0)
    taken = np.diff(np.minimum(np.cumsum(room, axis=1), heat_jm2[:, None]), axis=1, prepend=0.0)
    rest = heat_jm2 - taken.sum(axis=1)
    first = np.where(mass[:, 0] > 0, 0, 1)
    taken[np.arange(column.columns), first] += rest
    loose = cells[GRAINS] * (mass - front_ice_kgm2(mass, heat, cells[GRAINS], settings))
    heat += taken
    refit(cells, loose, settings)
    return replace(column, cells=cells)
