"""The rink as a grid of zones over a rectangle with rounded corners.

x runs along the length, y across the width, both from one corner [m]. Row 0 is the end at x = 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

ZONE_M = 5.0
MOST_ACROSS = 6
ARC_STEPS = 12
Point = tuple[float, float]


@dataclass(frozen=True)
class Zone:
    """One cell: its place in the grid, its name, its rectangle before clipping [m] and its true area [m²]."""

    row: int
    column: int
    name: str
    x0_m: float
    y0_m: float
    x1_m: float
    y1_m: float
    area_m2: float


@dataclass(frozen=True)
class Grid:
    """Rows along the length, columns across the width, of a rink with corners of one radius [m].

    Errors: ValueError for sizes that are not positive, a radius over half the shorter side, or no rows or
    columns.
    """

    length_m: float
    width_m: float
    corner_m: float = 0.0
    rows: int = 1
    columns: int = 1

    def __post_init__(self) -> None:
        for name in ("length_m", "width_m"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value > 0):
                raise ValueError(f"{name} is {value:g}; permitted: above 0 m.")
        most = min(self.length_m, self.width_m) / 2
        if not 0 <= self.corner_m <= most:
            raise ValueError(f"corner_m is {self.corner_m:g}; permitted: 0 to {most:g} m.")
        if self.rows < 1 or self.columns < 1:
            raise ValueError(f"rows x columns is {self.rows} x {self.columns}; permitted: at least 1 x 1.")

    @classmethod
    def for_size(cls, length_m: float, width_m: float, corner_m: float = 0.0) -> Grid:
        """The grid a rink starts with: zones of about 5 m, at most 6 across.

        Arguments: length_m, width_m, corner_m [m]. Returns: Grid. Errors: as Grid.
        """
        rows = max(1, round(length_m / ZONE_M)) if math.isfinite(length_m) else 1
        columns = min(MOST_ACROSS, max(1, round(width_m / ZONE_M))) if math.isfinite(width_m) else 1
        return cls(length_m, width_m, corner_m, rows, columns)

    @cached_property
    def zones(self) -> tuple[Zone, ...]:
        """Every zone, row by row."""
        return tuple(self.zone(r, c) for r in range(self.rows) for c in range(self.columns))

    @property
    def area_m2(self) -> float:
        """Area of the whole rink [m²]: rectangle less four corner notches."""
        return self.length_m * self.width_m - (4 - math.pi) * self.corner_m**2

    def zone(self, row: int, column: int) -> Zone:
        """One zone. Arguments: row, column from 0. Returns: Zone. Errors: IndexError outside the grid."""
        if not (0 <= row < self.rows and 0 <= column < self.columns):
            raise IndexError(f"no zone {row}, {column} in a grid of {self.rows} x {self.columns}")
        x0, x1 = (self.length_m * i / self.rows for i in (row, row + 1))
        y0, y1 = (self.width_m * i / self.columns for i in (column, column + 1))
        area = clipped_area_m2(self.length_m, self.width_m, self.corner_m, (x0, y0, x1, y1))
        return Zone(row, column, zone_name(row, column), x0, y0, x1, y1, area)

    def cell_at(self, x_m: float, y_m: float) -> tuple[int, int]:
        """Row and column of the cell under a point; the far edges belong to the last cell.

        Arguments: x_m along the length, y_m across the width [m]. Returns: (row, column). Errors: IndexError off
        the rectangle.
        """
        if not (0 <= x_m <= self.length_m and 0 <= y_m <= self.width_m):
            raise IndexError(f"the point {x_m:g}, {y_m:g} is off the rink")
        row = min(int(x_m / self.length_m * self.rows), self.rows - 1)
        return row, min(int(y_m / self.width_m * self.columns), self.columns - 1)

    def outline_m(self, row: int, column: int, arc_steps: int = ARC_STEPS) -> list[Point]:
        """Outline of a zone clipped at the rounded corners, for drawing; arcs become short chords.

        Arguments: row, column from 0, arc_steps a corner. Returns: points [m], closed by returning to the
        first.
        """
        zone = self.zone(row, column)
        points = self.rink_outline_m(arc_steps)
        edges = ((0, zone.x0_m, 1), (0, zone.x1_m, -1), (1, zone.y0_m, 1), (1, zone.y1_m, -1))
        for axis, limit, sign in edges:
            points = cut_outline(points, axis, limit, sign)
        return points

    def rink_outline_m(self, arc_steps: int = ARC_STEPS) -> list[Point]:
        """Outline of the whole rink, for drawing. Arguments: arc_steps a corner. Returns: points [m]."""
        r, length, width = self.corner_m, self.length_m, self.width_m
        if r == 0:
            return [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
        centres = ((r, r), (length - r, r), (length - r, width - r), (r, width - r))
        points = []
        for quarter, (x, y) in enumerate(centres):
            for step in range(arc_steps + 1):
                angle = math.pi + (quarter + step / arc_steps) * math.pi / 2
                points.append((x + r * math.cos(angle), y + r * math.sin(angle)))
        return points


def zone_name(row: int, column: int) -> str:
    """Name of a zone: a letter for the row, a number for the column: A1, B3, AA2.

    Arguments: row, column from 0. Returns: text.
    """
    letters, rest = "", row
    while rest >= 0:
        letters = chr(ord("A") + rest % 26) + letters
        rest = rest // 26 - 1
    return f"{letters}{column + 1}"


def clipped_area_m2(
    length_m: float, width_m: float, corner_m: float, box: tuple[float, float, float, float]
) -> float:
    """Exact area of a box within a rectangle with rounded corners.

    Arguments: length_m, width_m, corner_m [m], box (x0, y0, x1, y1) inside the rectangle [m]. Returns: [m²].
    Validity: corner radius at most half the shorter side. Source: closed form of the circular segment.
    """
    x0, y0, x1, y1 = box
    area = (x1 - x0) * (y1 - y0)
    for flip_x in (False, True):
        for flip_y in (False, True):
            u0, u1 = (length_m - x1, length_m - x0) if flip_x else (x0, x1)
            v0, v1 = (width_m - y1, width_m - y0) if flip_y else (y0, y1)
            area -= _notch_m2(corner_m, u0, v0, u1, v1)
    return max(area, 0.0)


def _notch_m2(r: float, u0: float, v0: float, u1: float, v1: float) -> float:
    """Area of a box outside the arc of the corner at the origin, whose centre is (r, r)."""
    a0, a1 = (min(max(r - u, 0.0), r) for u in (u1, u0))
    b0, b1 = (min(max(r - v, 0.0), r) for v in (v1, v0))
    if a1 <= a0 or b1 <= b0:
        return 0.0
    disc = _quarter_m2(r, a1, b1) - _quarter_m2(r, a0, b1) - _quarter_m2(r, a1, b0) + _quarter_m2(r, a0, b0)
    return (a1 - a0) * (b1 - b0) - disc


def _quarter_m2(r: float, a: float, b: float) -> float:
    """Area of the box 0..a by 0..b within the circle of radius r about the origin, a and b at most r."""
    if a * a + b * b <= r * r:
        return a * b
    start = math.sqrt((r - b) * (r + b))
    return b * start + _under_arc_m2(r, a) - _under_arc_m2(r, start)


def _under_arc_m2(r: float, x: float) -> float:
    """Integral of the arc's height from 0 to x; atan2 keeps its digits where asin loses half of them, at x = r."""
    height = math.sqrt((r - x) * (r + x))
    return (x * height + r * r * math.atan2(x, height)) / 2


def cut_outline(points: list[Point], axis: int, limit: float, sign: int) -> list[Point]:
    """Keep the part of a convex outline on one side of a line (Sutherland & Hodgman 1974)."""
    kept: list[Point] = []
    for here, after in zip(points, points[1:] + points[:1], strict=True):
        inside, next_inside = (sign * (p[axis] - limit) >= 0 for p in (here, after))
        if inside:
            kept.append(here)
        if inside != next_inside:
            share = (limit - here[axis]) / (after[axis] - here[axis])
            kept.append((here[0] + share * (after[0] - here[0]), here[1] + share * (after[1] - here[1])))
    return kept
