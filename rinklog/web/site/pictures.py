"""The surveyed ground and the water on it as SVG numbers: the length runs up the page, 1 unit = 1 dm."""

from dataclasses import dataclass, field

import numpy as np

from rinklog.geometry.standing import Placed
from rinklog.web import measures
from rinklog.web.middleware import current_units

UNITS_PER_M = 10
SHADES = 5
MOST_CELLS = 24


@dataclass(frozen=True)
class Cell:
    """A rectangle with its shade (0 shallow or low, 4 deep or high) and its number."""

    x: float
    y: float
    width: float
    height: float
    shade: int
    text: str

    @property
    def middle_x(self) -> float:
        """Where its number stands."""
        return round(self.x + self.width / 2, 1)

    @property
    def middle_y(self) -> float:
        """Where its number stands."""
        return round(self.y + self.height / 2, 1)


@dataclass(frozen=True)
class Picture:
    """Cells, the boards around the ice, and the deepest board."""

    width: float
    height: float
    cells: list[Cell]
    boards: str = ""
    spot: tuple[float, float] | None = None
    unit: str = ""
    shades: list[str] = field(default_factory=list)

    @property
    def view_box(self) -> str:
        """The drawing with a little room for the line of the boards."""
        return f"-3 -3 {self.width + 6:g} {self.height + 6:g}"


def depth_picture(placed: Placed, depths_m: list[list[float]], spot_m: tuple[float, float]) -> Picture:
    """The sheet with the depth of the water in each cell, and where the deepest board stands."""
    sheet = placed.sheet
    high = sheet.length_m * UNITS_PER_M
    u, v = sheet.edge
    boards = " ".join(
        f"{b * UNITS_PER_M:.0f},{high - a * UNITS_PER_M:.0f}" for a, b in zip(u[::4], v[::4], strict=True)
    )
    cells, names = _cells(depths_m, sheet.length_m, sheet.width_m, "depth")
    spot = (round(spot_m[1] * UNITS_PER_M, 1), round(high - spot_m[0] * UNITS_PER_M, 1))
    unit = measures.unit_text("depth", current_units())
    return Picture(sheet.width_m * UNITS_PER_M, high, cells, boards, spot, unit, names)


def ground_picture(placed: Placed) -> Picture:
    """The surveyed field, shaded by height, with the boards where the layout puts them."""
    ground = placed.ground
    rows, columns = (min(MOST_CELLS, max(6, len(some))) for some in (ground.xs, ground.ys))
    middles = [(np.arange(n) + 0.5) / n for n in (rows, columns)]
    x, y = np.meshgrid(middles[0] * ground.length_m, middles[1] * ground.width_m, indexing="ij")
    heights = ground.heights(x, y) - float(ground.levels.min())
    cells, names = _cells(
        [list(map(float, row)) for row in heights], ground.length_m, ground.width_m, "depth"
    )
    u, v = placed.sheet.edge
    on_x, on_y = placed.lay.on_field(placed.sheet, u[::4], v[::4])
    high = ground.length_m * UNITS_PER_M
    boards = " ".join(
        f"{b * UNITS_PER_M:.0f},{high - a * UNITS_PER_M:.0f}" for a, b in zip(on_x, on_y, strict=True)
    )
    unit = measures.unit_text("depth", current_units())
    return Picture(ground.width_m * UNITS_PER_M, high, cells, boards, None, unit, names)


def _cells(
    values: list[list[float]], length_m: float, width_m: float, quantity: str
) -> tuple[list[Cell], list[str]]:
    """Rectangles, the first row at the foot of the page; and what each shade stands for."""
    rows, columns = len(values), len(values[0])
    high, wide = length_m * UNITS_PER_M / rows, width_m * UNITS_PER_M / columns
    low, top = min(map(min, values)), max(map(max, values))
    step = (top - low) / SHADES
    units = current_units()
    cells = [
        Cell(
            round(column * wide, 1),
            round((rows - 1 - row) * high, 1),
            round(wide, 1),
            round(high, 1),
            min(SHADES - 1, int((value - low) / step + 1e-6)) if step > 1e-6 else SHADES // 2,
            measures.bare(value, quantity, units),
        )
        for row, line in enumerate(values)
        for column, value in enumerate(line)
    ]
    if step <= 1e-6:
        return cells, []
    bounds = [measures.bare(low + step * n, quantity, units) for n in range(SHADES + 1)]
    return cells, [f"{bounds[n]}–{bounds[n + 1]}" for n in range(SHADES)]
