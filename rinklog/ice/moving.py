"""A drill hole that a person confirms against all expectation: the zone is set to what was measured."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from rinklog.ice.inputs import Hole, Inputs
from rinklog.ice.spread import draws
from rinklog.ice.state import COLUMN_ARRAYS, SETTINGS, State
from rinklog.ice.weighing import hole_error_m
from rinklog.physics.column import Column
from rinklog.physics.column.state import Floats


def moved(state: State, hole: Hole, inputs: Inputs) -> State:
    """Set one zone to a confirmed hole: no weighing can bring members to where none of them is.

    Arguments: state, hole, inputs. Returns: State whose members of that zone have the measured ice within its error, the
    rest of their water beneath it, and the snow they had. Validity: the zone's water is kept where there was enough;
    where more ice was measured than there was water, somebody poured what nobody wrote down.
    """
    members = inputs.spread.members
    here = slice(hole.zone * members, (hole.zone + 1) * members)
    shake = draws(inputs.seed, "moved", hole.key, size=(members,))
    shake[0] = 0.0
    ice_m = np.maximum(hole.ice_m + hole_error_m(hole.ice_m, inputs.spread) * shake, 0.0)
    old: dict[str, Any] = {name: _of(state.column, name, here) for name in COLUMN_ARRAYS}
    under_snow_kgm2 = old["cells"][0, :, 1:].sum(axis=1)
    water_m = np.maximum(under_snow_kgm2 - ice_m * SETTINGS.rho_ice_kgm3, 0.0) / SETTINGS.rho_water_kgm3
    zone = Column.start(
        SETTINGS,
        members,
        ice_m=ice_m,
        water_m=np.where(water_m > LEAST_WATER_M, water_m, 0.0),
        snow_m=old["cells"][0, :, 0] / old["snow_kgm3"],
        snow_kgm3=old["snow_kgm3"],
        ice_c=np.minimum(old["surface_c"], 0.0) / 2,
    )
    zone = replace(zone, snow_albedo=old["snow_albedo"], covered=old["covered"])
    put: dict[str, Any] = {name: _put(state.column, zone, name, here) for name in COLUMN_ARRAYS}
    logs = state.log_weights.copy()
    logs[hole.zone] = 0.0
    return replace(state, column=Column(**put), log_weights=logs, holes_used=state.holes_used + 1)


LEAST_WATER_M = 0.001
"""Less water than this under ice is rounding."""


def _of(column: Column, name: str, here: slice) -> Floats:
    values: Floats = getattr(column, name)
    return values[:, here] if name == "cells" else values[here]


def _put(column: Column, zone: Column, name: str, here: slice) -> Floats:
    values: Floats = getattr(column, name).copy()
    if name == "cells":
        values[:, here] = getattr(zone, name)
    else:
        values[here] = getattr(zone, name)
    return values
