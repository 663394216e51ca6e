"""The rink to scale as SVG numbers: the length runs up the page, the width across it, 1 unit = 1 dm."""

from collections.abc import Iterable
from dataclasses import dataclass

from rinklog.geometry.grid import Grid as Plan
from rinklog.rink.models import Grid, Zone

UNITS_PER_M = 10


@dataclass(frozen=True)
class DrawnZone:
    """A zone with its outline and the middle of it, in drawing units."""

    zone: Zone
    points: str
    x: float
    y: float


@dataclass(frozen=True)
class Drawing:
    """Everything a template needs to draw a rink."""

    width: float
    height: float
    outline: str
    zones: list[DrawnZone]
    rows: int
    columns: int

    corner: float = 0.0

    @property
    def view_box(self) -> str:
        """The SVG viewBox: just the ice, so that checkboxes laid over it meet the zones exactly."""
        return f"0 0 {self.width:g} {self.height:g}"

    @property
    def corner_x(self) -> float:
        """Corner radius as a share of the width, for clipping what lies over the drawing."""
        return round(self.corner / self.width, 4)

    @property
    def corner_y(self) -> float:
        """Corner radius as a share of the height."""
        return round(self.corner / self.height, 4)


def draw(grid: Grid, zones: Iterable[Zone]) -> Drawing:
    """Draw a grid. Row A is at the bottom: the near end."""
    plan = Plan(grid.length_m, grid.width_m, grid.corner_m, grid.rows, grid.columns)
    height = grid.length_m * UNITS_PER_M

    def points(outline: list[tuple[float, float]]) -> str:
        return " ".join(f"{y * UNITS_PER_M:.1f},{height - x * UNITS_PER_M:.1f}" for x, y in outline)

    drawn = []
    for zone in zones:
        cell = plan.zone(zone.row, zone.column)
        middle = (
            (cell.y0_m + cell.y1_m) / 2 * UNITS_PER_M,
            height - (cell.x0_m + cell.x1_m) / 2 * UNITS_PER_M,
        )
        drawn.append(DrawnZone(zone, points(plan.outline_m(zone.row, zone.column)), *middle))
    return Drawing(
        grid.width_m * UNITS_PER_M,
        height,
        points(plan.rink_outline_m()),
        drawn,
        grid.rows,
        grid.columns,
        grid.corner_m * UNITS_PER_M,
    )


def from_the_top(zones: Iterable[Zone]) -> list[Zone]:
    """Zones in the order they stand on the page: the far end first, so that row A is at the bottom."""
    return sorted(zones, key=lambda zone: (-zone.row, zone.column))


def quick_picks(zones: list[Zone], grid: Grid) -> dict[str, list[int]]:
    """Zone ids by quick pick: the whole rink, each end, along the boards."""
    third = max(1, grid.rows // 3)
    boards = [
        zone.id for zone in zones if zone.row in (0, grid.rows - 1) or zone.column in (0, grid.columns - 1)
    ]
    return {
        "whole": [zone.id for zone in zones],
        "near": [zone.id for zone in zones if zone.row < third],
        "far": [zone.id for zone in zones if zone.row >= grid.rows - third],
        "boards": boards,
    }
