"""The drift behind a snow fence: its shape when full, and how far it reaches before it is."""

from __future__ import annotations

import math

import numpy as np

from rinklog.geometry.fence import POROUS, capacity_tm, drift_area_m2, drift_m
from rinklog.geometry.ground import Array

HIGHEST_AT = 0.22
"""Where the drift is deepest, as a share of its length: six to seven heights behind the fence (from memory)."""
_MEAN = 19.3 / (30 * 1.2)
"""Mean depth over greatest depth that Tabler's area, length and depth of 1980 give together."""


def profile_m(height_m: float, behind_m: Array) -> Array:
    """Depth of the full lee drift at distances behind the fence.

    Arguments: height_m of the fence, behind_m [m]. Returns: [m], 0 beyond the end. Validity: half-open fence on level
    ground. Source: length 30 H, depth 1.2 H and area 19.3 H² are Tabler 1980; the smooth curve through them is ours.
    """
    long, deep = drift_m(height_m)
    t = np.clip(np.asarray(behind_m, dtype=float) / long, 0.0, 1.0)
    a, b = _powers()
    peak = HIGHEST_AT**a * (1 - HIGHEST_AT) ** b
    return deep * t**a * (1 - t) ** b / peak


def _powers() -> tuple[float, float]:
    """Powers of t^a (1-t)^b whose top lies at HIGHEST_AT and whose mean is _MEAN of it, by halving."""
    low, high = 0.01, 5.0
    for _ in range(80):
        scale = (low + high) / 2
        low, high = (scale, high) if _mean(scale) > _MEAN else (low, scale)
    return HIGHEST_AT * low, (1 - HIGHEST_AT) * low


def _mean(scale: float) -> float:
    """Mean over top of the curve with powers in proportion: the beta function over its greatest value."""
    a, b = HIGHEST_AT * scale, (1 - HIGHEST_AT) * scale
    beta = math.gamma(a + 1) * math.gamma(b + 1) / math.gamma(a + b + 2)
    return beta / (HIGHEST_AT**a * (1 - HIGHEST_AT) ** b)


def area_m2(height_m: float, store_tm: float, coefficient_tm: float = POROUS) -> float:
    """Cross-section of a drift that holds an amount of snow, at most the full one.

    Arguments: height_m [m], store_tm, coefficient_tm [t/m]. Returns: [m²]. Validity: the density is the same at every
    stage. Source: proportion to Tabler's full drift.
    """
    return float(drift_area_m2(height_m)) * filled(height_m, store_tm, coefficient_tm)


def filled(height_m: float, store_tm: float, coefficient_tm: float = POROUS) -> float:
    """Share of a fence's room that an amount of snow takes, at most 1. Arguments: [m], [t/m]. Returns: 0-1."""
    return min(1.0, store_tm / float(capacity_tm(height_m, coefficient_tm)))


def reach_m(height_m: float, share: float) -> float:
    """How far the drift reaches behind a fence that is filled to a share.

    Arguments: height_m [m], share 0-1. Returns: [m]. Validity: half-open fence. Source: Tabler 1994, L/H = 10.5 + 6.6 s +
    17.2 s² (from memory); full it gives 34.3 H, inside the published setback of 35 H.
    """
    return height_m * (10.5 + 6.6 * share + 17.2 * share**2) if share > 0 else 0.0
