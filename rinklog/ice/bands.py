"""Members into what a person reads: weighted quantiles by zone, and the hours of the outlook."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rinklog.physics.column.state import Floats

LOW, MIDDLE, HIGH = 0.1, 0.5, 0.9


@dataclass(frozen=True)
class Band:
    """10 %, 50 % and 90 % of the weighted ensemble."""

    low: float
    middle: float
    high: float


def quantile(values: Floats, weights: Floats, share: float) -> float:
    """The value below which a share of the weight lies, in a line between members.

    Arguments: values, weights (members,), share [0-1]. Returns: as values. Source: the midpoint rule, as Hazen 1914
    for equal weights.
    """
    order = np.argsort(values, kind="stable")
    mass = weights[order]
    middles = np.cumsum(mass) - mass / 2
    return float(np.interp(share * mass.sum(), middles, values[order]))


def band(values: Floats, weights: Floats) -> Band:
    """The band of some members. Arguments: values, weights (members,). Returns: Band."""
    return Band(*(quantile(values, weights, share) for share in (LOW, MIDDLE, HIGH)))
