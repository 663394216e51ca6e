"""How much water stands on a floor that is not level."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rinklog.physics.validity import require

Levels = NDArray[np.float64]
Point = tuple[float, float]


class Basin(NamedTuple):
    """Water in a basin; Simpson's volume only for a grid with odd counts both ways."""

    volume_m3: float
    volume_simpson_m3: float | None
    greatest_depth_m: float
    wet_area_m2: float
    mean_depth_m: float


def sloping(
    length_m: float, width_m: float, fall_long: float, fall_cross: float, depth_low_m: float
) -> Basin:
    """Water on a plane that rises from its lowest corner; exact, the dry part left out.

    Arguments: length_m, width_m [m], fall_long, fall_cross [m per m], depth_low_m at the lowest corner [m].
    Returns: Basin. Validity: falls 0-1, depth 0-10 m. Source: area clipped at the water's edge times the
    depth at its centroid, exact for a plane.
    """
    _require_size(length_m, width_m)
    require("fall_long", fall_long, 0, 1, "m per m")
    require("fall_cross", fall_cross, 0, 1, "m per m")
    require("depth_low_m", depth_low_m, 0, 20, "m")

    def depth(point: Point) -> float:
        return depth_low_m - fall_long * point[0] - fall_cross * point[1]

    floor: list[Point] = [(0.0, 0.0), (length_m, 0.0), (length_m, width_m), (0.0, width_m)]
    area, centre = _area_and_centroid(_wet(floor, [depth(p) for p in floor]))
    volume = area * max(depth(centre), 0.0) if area > 0 else 0.0
    return Basin(volume, None, depth_low_m, area, volume / area if area > 0 else 0.0)


def depth_for_cover_m(
    length_m: float, width_m: float, fall_long: float, fall_cross: float, cover_m: float
) -> float:
    """Depth at the lowest corner that leaves a wanted depth at the highest.

    Arguments: length_m, width_m [m], fall_long, fall_cross [m per m], cover_m [m]. Returns: [m].
    Validity: as sloping. Source: geometry.
    """
    return cover_m + fall_long * length_m + fall_cross * width_m


def surveyed(levels_m: Levels, spacing_long_m: float, spacing_cross_m: float, water_level_m: float) -> Basin:
    """Water over a surveyed grid of floor heights, nodes above the water counted as dry.

    Arguments: levels_m, rows across and columns along a row [m], spacing_long_m between rows, spacing_cross_m
    within a row [m], water_level_m [m]. Returns: Basin. Validity: at least 2 x 2. Source: trapezoid rule;
    Simpson 1-4-1 for odd counts; the wet area is the trapezoid rule over wet nodes.
    """
    require("spacing_long_m", spacing_long_m, 0.01, 1000, "m")
    require("spacing_cross_m", spacing_cross_m, 0.01, 1000, "m")
    require("levels", levels_m, -1000, 9000, "m")
    require("water_level_m", water_level_m, -1000, 9000, "m")
    depth = np.maximum(water_level_m - np.asarray(levels_m, dtype=float), 0.0)
    if depth.ndim != 2 or min(depth.shape) < 2:
        raise ValueError("levels has too few heights; permitted: at least 2 rows of at least 2.")
    cell = spacing_long_m * spacing_cross_m
    weights = np.outer(_trapezoid(depth.shape[0]), _trapezoid(depth.shape[1])) * cell
    simpson = None
    if depth.shape[0] % 2 and depth.shape[1] % 2:
        simpson = float((np.outer(_simpson(depth.shape[0]), _simpson(depth.shape[1])) * depth).sum() * cell)
    volume, area = float((weights * depth).sum()), float(weights[depth > 0].sum())
    return Basin(volume, simpson, float(depth.max()), area, volume / area if area > 0 else 0.0)


def prismoid_m3(first_m2: float, middle_m2: float, last_m2: float, length_m: float) -> float:
    """Volume between two cross-sections with one halfway.

    Arguments: first_m2, middle_m2, last_m2 [m²], length_m [m]. Returns: [m³]. Validity: not negative.
    Source: prismoidal formula, L/6 (A1 + 4 Am + A2).
    """
    for name, value in (("first_m2", first_m2), ("middle_m2", middle_m2), ("last_m2", last_m2)):
        require(name, value, 0, 1e6, "m²")
    require("length_m", length_m, 0, 1e5, "m")
    return length_m / 6 * (first_m2 + 4 * middle_m2 + last_m2)


def _require_size(length_m: float, width_m: float) -> None:
    require("length_m", length_m, 0.1, 10_000, "m")
    require("width_m", width_m, 0.1, 10_000, "m")


def _trapezoid(count: int) -> Levels:
    weights = np.ones(count)
    weights[[0, -1]] = 0.5
    return weights


def _simpson(count: int) -> Levels:
    weights = np.full(count, 2.0)
    weights[1::2] = 4
    weights[[0, -1]] = 1
    return weights / 3


def _wet(points: list[Point], depths: list[float]) -> list[Point]:
    """Keep the part of a polygon where a depth linear over it is not negative."""
    kept: list[Point] = []
    pairs = list(zip(points, depths, strict=True))
    for (here, d), (after, e) in zip(pairs, pairs[1:] + pairs[:1], strict=True):
        if d >= 0:
            kept.append(here)
        if d * e < 0:
            share = d / (d - e)
            kept.append((here[0] + share * (after[0] - here[0]), here[1] + share * (after[1] - here[1])))
    return kept


def _area_and_centroid(points: list[Point]) -> tuple[float, Point]:
    """Area and centroid of a polygon (shoelace formula)."""
    area = x = y = 0.0
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True):
        cross = x0 * y1 - x1 * y0
        area, x, y = area + cross / 2, x + (x0 + x1) * cross / 6, y + (y0 + y1) * cross / 6
    return (area, (x / area, y / area)) if area > 0 else (0.0, (0.0, 0.0))
