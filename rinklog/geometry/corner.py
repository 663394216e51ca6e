"""Circles on the ice and stakes for a rounded corner."""

from __future__ import annotations

import math
from typing import NamedTuple

from rinklog.physics.validity import require


class Stakes(NamedTuple):
    """Stakes along a quarter circle [m], from one tangent point to the other.

    x and y are measured from the point where the straight sides would meet; chord is the straight distance
    from the stake before (0 at the first).
    """

    x_m: list[float]
    y_m: list[float]
    chord_m: list[float]


def perimeter_m(radius_m: float) -> float:
    """Perimeter of a circle. Arguments: radius_m [m]. Returns: [m]. Validity: 0-1000 m. Source: 2 pi r."""
    require("radius_m", radius_m, 0, 1000, "m")
    return 2 * math.pi * radius_m


def radius_m(perimeter: float) -> float:
    """Radius of a circle. Arguments: perimeter [m]. Returns: [m]. Validity: 0-10 000 m. Source: P / 2 pi."""
    require("perimeter_m", perimeter, 0, 10_000, "m")
    return perimeter / (2 * math.pi)


def stakes(radius: float, spacing_m: float) -> Stakes:
    """Stakes evenly along a rounded corner, at most spacing_m of arc apart.

    Arguments: radius, spacing_m along the arc [m]. Returns: Stakes. Validity: radius 0.1-100, spacing
    0.01-100 m. Source: geometry of the circle, chord = 2 r sin(angle / 2).
    """
    require("radius_m", radius, 0.1, 100, "m")
    require("spacing_m", spacing_m, 0.01, 100, "m")
    gaps = max(1, math.ceil(math.pi / 2 * radius / spacing_m - 1e-9))
    angles = [math.pi / 2 * i / gaps for i in range(gaps + 1)]
    chord = 2 * radius * math.sin(math.pi / 4 / gaps)
    return Stakes(
        [radius * (1 - math.sin(a)) for a in angles],
        [radius * (1 - math.cos(a)) for a in angles],
        [0.0] + [chord] * gaps,
    )
