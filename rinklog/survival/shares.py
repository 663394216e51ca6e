"""A share out of a few cases, with how uncertain it is."""

from __future__ import annotations

import math


def wilson(hits: int, cases: int, z: float = 1.959964) -> tuple[float, float]:
    """The interval in which a share lies.

    Arguments: hits out of cases, z of the interval [1, 1.96 for 95 %]. Returns: (low, high) [1]. Errors: ValueError
    without cases. Source: Wilson 1927.
    """
    if not 0 <= hits <= cases or cases == 0:
        raise ValueError(f"{hits} of {cases} is no share")
    share, square = hits / cases, z * z
    middle = (share + square / (2 * cases)) / (1 + square / cases)
    spread = z / (1 + square / cases) * math.sqrt(share * (1 - share) / cases + square / (4 * cases**2))
    return max(0.0, middle - spread), min(1.0, middle + spread)
