"""Where a hazard is, whatever was said of its place."""

from rinklog.geometry.grid import Grid as Plan
from rinklog.work.models import Hazard


def place_m(hazard: Hazard) -> tuple[float, float] | None:
    """Where a hazard is [m]: its point, else the middle of its zones; None when it has no place."""
    if hazard.x_m is not None and hazard.y_m is not None:
        return hazard.x_m, hazard.y_m
    grid = hazard.grid
    plan = Plan(grid.length_m, grid.width_m, grid.corner_m, grid.rows, grid.columns)
    cells = [plan.zone(zone.row, zone.column) for zone in hazard.zones.all()]
    if not cells:
        return None
    return (
        sum(cell.x0_m + cell.x1_m for cell in cells) / (2 * len(cells)),
        sum(cell.y0_m + cell.y1_m for cell in cells) / (2 * len(cells)),
    )
