"""Which drill holes a person is asked about before they count: thicker than nature can freeze, or far off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from rinklog.ice.bands import quantile
from rinklog.ice.inputs import Hole, Inputs
from rinklog.ice.state import State
from rinklog.ice.weighing import hole_error_m
from rinklog.physics.column.state import Floats

STEFAN_CM = 3.52
"""Bare ice over still water grows by no more than this times the root of the degree-days of frost [cm/(°C d)^½]
(Stefan, k = 2.2 W/m/K): the corridor for any growth model."""
ROOM_M = 0.010
"""Allowed above the limit: the degree-days are of a station, not of the rink. Common practice, no source."""
JUMP_M, JUMP_ERRORS = 0.030, 4.0
"""A hole is asked about when it is off by more than 3 cm and by more than four standard errors of hole and estimate
together. Common practice, no source."""


@dataclass(frozen=True)
class Doubt:
    """Why a hole is asked about: `limit` or `jump`; what was expected [m], low and high."""

    hole: Hole
    why: Literal["limit", "jump"]
    low_m: float
    high_m: float


def limit_m(frost_cd: float, poured_m: float) -> float:
    """The most ice there can be [m]: what frost can grow from below, and every coat that was poured since the fill.

    Arguments: frost_cd degree-days of frost [°C d], poured_m water [m]. Returns: [m]. Source: Stefan's limit, 3.52
    √FDD cm; water expands by 1000/917 on freezing.
    """
    return STEFAN_CM / 100 * float(np.sqrt(max(frost_cd, 0.0))) + poured_m * 1000 / 917


def doubt(state: State, hole: Hole, ice_m: Floats, inputs: Inputs) -> Doubt | None:
    """Whether a hole is to be asked about.

    Arguments: state, hole, ice_m (zones, members) [m], inputs. Returns: Doubt or None.
    """
    most_m = limit_m(state.frost_cd, float(state.poured_m[hole.zone])) + ROOM_M
    if inputs.begun and hole.ice_m > most_m:
        return Doubt(hole, "limit", 0.0, most_m)
    weights, here = state.weights[hole.zone], ice_m[hole.zone]
    middle = quantile(here, weights, 0.5)
    variance = float(weights @ (here - weights @ here) ** 2)
    error_m = float(np.sqrt(variance + hole_error_m(hole.ice_m, inputs.spread) ** 2))
    reach_m = max(JUMP_M, JUMP_ERRORS * error_m)
    if abs(hole.ice_m - middle) > reach_m:
        return Doubt(hole, "jump", max(middle - reach_m, 0.0), middle + reach_m)
    return None
