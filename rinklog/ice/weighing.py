"""What a drill hole or a look says of the members: likelihoods, effective number, resampling. Importance weights.

A member counts in its zone by how well it fits what was measured there. A hole in another zone counts too, with a wider
error: the zones share the weather and most of the factors, and differ by their floods. Where fewer than a third of the
members carry a zone, they are drawn anew in proportion (systematic resampling), and their factors are shaken a little
around the same mean and spread (kernel shrinkage, Liu & West 2001). Every draw follows from the season's seed and
the hour.
"""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np

from rinklog.ice.inputs import Hole, Inputs, Look
from rinklog.ice.spread import Spread, draws
from rinklog.ice.state import State, taken
from rinklog.physics.column.state import Floats

LEAST_SHARE = 1 / 3
SHRINK = 0.95
"""How much of a factor a redrawn member keeps; 0.95 is in the range that Liu & West advise (0.974 and less)."""
SAID_RIGHT = 0.9
"""How often somebody who looks at a zone says wet where it is wet, or dry where it is dry: common practice, no source."""
WET_M, SNOWY_M = 0.0005, 0.005
"""Water and snow that a person would notice."""


def hole_error_m(ice_m: float, spread: Spread) -> float:
    """Standard error of a hole for its own zone [m]."""
    return float(np.hypot(spread.hole_m, spread.hole_uneven_frac * ice_m))


def with_hole(state: State, hole: Hole, ice_m: Floats, spread: Spread) -> State:
    """Weigh the members by one hole.

    Arguments: state, hole, ice_m of every zone and member [m] (zones, members), spread. Returns: State. Validity:
    Gaussian errors; another zone hears of it with the error by which zones differ on top.
    """
    here_m = hole_error_m(hole.ice_m, spread)
    there_m = float(np.hypot(here_m, np.hypot(spread.elsewhere_m, spread.elsewhere_frac * hole.ice_m)))
    off = ice_m[hole.zone] - hole.ice_m
    logs = state.log_weights + _gauss(off, there_m)[None]
    logs[hole.zone] = state.log_weights[hole.zone] + _gauss(off, here_m)
    return replace(state, log_weights=_level(logs), holes_used=state.holes_used + 1)


def with_look(state: State, look: Look, wet_m: Floats, snow_m: Floats) -> State:
    """Weigh one zone's members by what somebody saw there.

    Arguments: state, look, wet_m, snow_m (zones, members) [m]. Returns: State.
    """
    logs = state.log_weights.copy()
    for said, depth_m, least_m in ((look.wet, wet_m, WET_M), (look.snow, snow_m, SNOWY_M)):
        if said is not None:
            fits = (depth_m[look.zone] > least_m) == said
            logs[look.zone] += np.log(np.where(fits, SAID_RIGHT, 1 - SAID_RIGHT))
    return replace(state, log_weights=_level(logs))


def effective(weights: Floats) -> Floats:
    """How many members carry each zone (Kish 1965): 1 / sum of squared weights. Arguments: weights (zones, members)."""
    return np.asarray(1 / (weights**2).sum(axis=1))


def redrawn(state: State, inputs: Inputs) -> State:
    """Draw the members anew in every zone that too few of them carry.

    Arguments: state, inputs (seed). Returns: State with equal weights there.
    """
    weights, members = state.weights, inputs.spread.members
    for zone in np.flatnonzero(effective(weights) < LEAST_SHARE * members).tolist():
        about = (inputs.seed, "redraw", state.at.isoformat(), zone)
        first = NormalDist().cdf(float(draws(*about, size=(1,))[0]))
        chosen = systematic(weights[zone], first)
        state = taken(state, zone, chosen)
        logs, exchange, sunlight = state.log_weights.copy(), state.exchange.copy(), state.sunlight.copy()
        logs[zone] = 0.0
        for name, factors in (("exchange", exchange), ("sunlight", sunlight)):
            factors[zone] = shaken(factors[zone], weights[zone], chosen, draws(*about, name, size=(members,)))
        state = replace(state, log_weights=logs, exchange=exchange, sunlight=sunlight)
    return state


def systematic(weights: Floats, first: float) -> np.ndarray[tuple[int, ...], np.dtype[np.intp]]:
    """Members in proportion to their weights, by even steps through their sum.

    Arguments: weights (members,), first [0-1] where the first step lands. Returns: indices (members,), rising. Source:
    Kitagawa 1996.
    """
    steps = (np.arange(len(weights)) + first) / len(weights)
    return np.minimum(np.searchsorted(np.cumsum(weights), steps), len(weights) - 1)


def shaken(
    factors: Floats, weights: Floats, chosen: np.ndarray[tuple[int, ...], np.dtype[np.intp]], shake: Floats
) -> Floats:
    """Factors of the drawn members, pulled to their mean and shaken so that mean and spread of the logarithm stay."""
    logs = np.log(factors)
    mean = float(weights @ logs)
    spread = math.sqrt(float(weights @ (logs - mean) ** 2))
    return np.exp(mean + SHRINK * (logs[chosen] - mean) + np.sqrt(1 - SHRINK**2) * spread * shake)


def _gauss(off_m: Floats, error_m: float) -> Floats:
    return -0.5 * (off_m / max(error_m, 1e-6)) ** 2


def _level(logs: Floats) -> Floats:
    """Logarithms with the best member at 0, so that they never run out of range."""
    return logs - logs.max(axis=1, keepdims=True)
