"""What goes with a spoilt flood: a small logistic model. Only where there are ten of the rarer outcome a variable."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

A_VARIABLE = 10  # of the rarer outcome (Peduzzi et al. 1996)
MOST_ROUNDS = 50
CLOSE = 1e-10
TOO_FAR = 12.0  # beyond, one outcome is separated from the other and nothing can be estimated


@dataclass(frozen=True)
class Effect:
    """By how much the odds change a unit of one variable, with its 95 % interval."""

    name: str
    odds_ratio: float
    low: float
    high: float


def effects(
    names: Sequence[str], rows: Sequence[Sequence[float]], hit: Sequence[bool], z: float = 1.959964
) -> list[Effect] | None:
    """Odds ratios of a logistic regression with an intercept.

    Arguments: names of the variables, rows of their values, hit (the outcome), z of the interval. Returns: one effect a
    variable; None where there are too few cases, or where the outcome is separated. Source: maximum likelihood by
    Newton's method; Wald intervals.
    """
    import numpy as np

    rarer = min(sum(hit), len(hit) - sum(hit))
    if not names or rarer < A_VARIABLE * len(names):
        return None
    values = np.asarray(rows, dtype=float)
    centre, spread = values.mean(axis=0), values.std(axis=0)
    if (spread == 0).any():
        return None
    design = np.column_stack([np.ones(len(values)), (values - centre) / spread])
    outcome, beta = np.asarray(hit, dtype=float), np.zeros(design.shape[1])
    for _round in range(MOST_ROUNDS):
        chance = 1 / (1 + np.exp(-design @ beta))
        information = (design * (chance * (1 - chance))[:, None]).T @ design
        try:
            step = np.linalg.solve(information, design.T @ (outcome - chance))
        except np.linalg.LinAlgError:
            return None
        beta = beta + step
        if np.abs(beta).max() > TOO_FAR:
            return None
        if np.abs(step).max() < CLOSE:
            break
    error = np.sqrt(np.diag(np.linalg.inv(information)))[1:] / spread
    slope = beta[1:] / spread
    return [
        Effect(name, math.exp(b), math.exp(b - z * e), math.exp(b + z * e))
        for name, b, e in zip(names, slope, error, strict=True)
    ]
