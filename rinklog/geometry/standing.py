"""Water standing on surveyed ground inside the boards: how much, how deep, and how deep at which board."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rinklog.geometry.ground import Array, Ground
from rinklog.geometry.sheet import Lay, Sheet

OUTSIDE_M = 0.05
"""How far the boards may stand outside the surveyed field: a hand's breadth of tape [m]."""


class SiteError(ValueError):
    """A survey or a layout that cannot be used: a code and what belongs to it; the page says it in a sentence."""

    def __init__(self, code: str, **params: object) -> None:
        self.code, self.params = code, params
        super().__init__(f"{code} {params}")


@dataclass(frozen=True)
class Standing:
    """Water in a layout. Volumes [m³], areas [m²], depths and lengths [m]; `fall_m` high to low inside the boards."""

    volume_m3: float
    wet_area_m2: float
    mean_depth_m: float
    deepest_m: float
    board_depth_m: float
    board_u_m: float
    board_v_m: float
    fall_m: float
    water_level_m: float
    cut_m3: float
    fill_m3: float
    profile_length_m: float
    profile_width_m: float


@dataclass(frozen=True)
class Placed:
    """A sheet laid on ground, its earthwork done."""

    ground: Ground
    sheet: Sheet
    lay: Lay

    def raw(self, u_m: Array, v_m: Array) -> Array:
        """Height of the ground as surveyed, at points of the sheet [m]."""
        return self.ground.heights(*self.lay.on_field(self.sheet, u_m, v_m))

    def limits(self) -> tuple[float, float]:
        """Lowest and highest ground inside the boards as surveyed [m]: at a surveyed point, at the boards, or between."""
        x, y, z = self.ground.nodes
        u, v = self.lay.on_sheet(self.sheet, x, y)
        inside = (u >= 0) & (u <= self.sheet.length_m)
        half = self.sheet.half_chord_m(np.clip(u, 0, self.sheet.length_m))
        inside &= np.abs(v - self.sheet.width_m / 2) <= half
        points, edge = self.sheet.points, self.sheet.edge
        found = [z[inside], self.raw(points[0], points[1]), self.raw(*edge)]
        heights = np.concatenate(found)
        return float(heights.min()), float(heights.max())

    def heights(self, u_m: Array, v_m: Array) -> Array:
        """Height once the highest ground is taken off and the lowest filled up [m]."""
        lowest, highest = self.limits()
        return np.clip(self.raw(u_m, v_m), lowest + self.lay.raise_m, highest - self.lay.lower_m)

    def level_m(self, cover_m: float) -> float:
        """Height of the water that leaves `cover_m` over the highest ground [m]."""
        return self.limits()[1] - self.lay.lower_m + cover_m

    def depths(self, u_m: Array, v_m: Array, cover_m: float) -> Array:
        """Depth of the water [m]."""
        return self.level_m(cover_m) - self.heights(u_m, v_m)


def require_inside(placed: Placed) -> None:
    """Refuse a sheet that leaves the surveyed field: nothing is known of the ground there.

    Errors: SiteError "outside" with how far [m]; "upside-down" when more is levelled than the ground falls.
    """
    x, y = placed.lay.on_field(placed.sheet, *placed.sheet.edge)
    field = placed.ground
    out = max(-x.min(), x.max() - field.length_m, -y.min(), y.max() - field.width_m)
    if out > OUTSIDE_M:
        raise SiteError("outside", out=float(out))
    lowest, highest = placed.limits()
    if placed.lay.lower_m + placed.lay.raise_m > highest - lowest + 1e-9:
        raise SiteError("upside-down", fall=highest - lowest)


def standing(placed: Placed, cover_m: float) -> Standing:
    """The water that leaves `cover_m` over the highest ground inside the boards.

    Arguments: placed; cover_m [m]. Returns: Standing. Errors: SiteError as require_inside. Validity: still water; the
    ground between surveyed points is taken as bilinear. Source: two-point Gauss quadrature, panels of 0.25 m.
    """
    require_inside(placed)
    u, v, area = placed.sheet.points
    raw, level = placed.raw(u, v), placed.level_m(cover_m)
    lowest, highest = placed.limits()
    ground = np.clip(raw, lowest + placed.lay.raise_m, highest - placed.lay.lower_m)
    depth = level - ground
    volume = float((area * depth).sum())
    edge_u, edge_v = placed.sheet.edge
    at_boards = placed.depths(edge_u, edge_v, cover_m)
    worst = int(at_boards.argmax())
    return Standing(
        volume_m3=volume,
        wet_area_m2=float(area[depth > 0].sum()),
        mean_depth_m=volume / placed.sheet.area_m2,
        deepest_m=level - (lowest + placed.lay.raise_m),
        board_depth_m=float(at_boards[worst]),
        board_u_m=float(edge_u[worst]),
        board_v_m=float(edge_v[worst]),
        fall_m=highest - lowest - placed.lay.lower_m - placed.lay.raise_m,
        water_level_m=level,
        cut_m3=float((area * np.maximum(raw - ground, 0)).sum()),
        fill_m3=float((area * np.maximum(ground - raw, 0)).sum()),
        profile_length_m=_longest(placed, along=True),
        profile_width_m=_longest(placed, along=False),
    )


def _longest(placed: Placed, *, along: bool, lines: int = 21) -> float:
    """Length of the ground along the longest of some straight lines across the sheet [m]."""
    size = placed.sheet.length_m if along else placed.sheet.width_m
    other = placed.sheet.width_m if along else placed.sheet.length_m
    steps = np.linspace(0, size, 200)
    across = np.linspace(0, other, lines)
    a, b = np.meshgrid(across, steps, indexing="ij")
    heights = placed.heights(b, a) if along else placed.heights(a, b)
    rises = np.diff(heights, axis=1)
    return float(np.hypot(rises, steps[1] - steps[0]).sum(axis=1).max())


def depth_map(placed: Placed, cover_m: float, rows: int, columns: int) -> list[list[float]]:
    """Mean depth of the water in each cell of a grid over the sheet [m], rows from the near end, columns from the left.

    Arguments: placed; cover_m [m]; rows, columns. Returns: [m]; a cell's own part inside the boards counts.
    """
    u, v, area = placed.sheet.points
    depth = placed.depths(u, v, cover_m)
    row = np.minimum((u / placed.sheet.length_m * rows).astype(int), rows - 1)
    column = np.minimum((v / placed.sheet.width_m * columns).astype(int), columns - 1)
    cell = row * columns + column
    water = np.bincount(cell, weights=area * depth, minlength=rows * columns)
    ice = np.bincount(cell, weights=area, minlength=rows * columns)
    means = np.divide(water, ice, out=np.zeros_like(water), where=ice > 0)
    return [list(map(float, one)) for one in means.reshape(rows, columns)]
