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
    """The value below which the truth lies with probability `share`, were it one more member; in a line between members.

    Arguments: values, weights (members,), share [0-1]. Returns: as values; no further out than the outermost member.
    Source: of n alike members the truth falls into each of the n + 1 gaps equally often (rank histograms; positions
    k / (n + 1), Weibull 1939), with n the effective number of weighted members (Kish 1965). Both from memory.
    """
    order = np.argsort(values, kind="stable")
    mass = weights[order] / weights.sum()
    alike = 1.0 / np.sum(mass**2)
    places = ((np.cumsum(mass) - mass / 2) * alike + 0.5) / (alike + 1)
    return float(np.interp(share, places, values[order]))


def band(values: Floats, weights: Floats) -> Band:
    """The band of some members. Arguments: values, weights (members,). Returns: Band."""
    return Band(*(quantile(values, weights, share) for share in (LOW, MIDDLE, HIGH)))
