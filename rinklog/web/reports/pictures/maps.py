"""Maps of the zones: water, work and trouble, a number in every zone and a shade that only supports it."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from rinklog.reports.review.tables import Table
from rinklog.rink.models import Grid, Zone
from rinklog.web import measures
from rinklog.web.middleware import current_units
from rinklog.web.rinkmap.drawing import draw

STEPS = 4


@dataclass(frozen=True)
class Cell:
    """One zone: its outline, where its number stands, the number, and how dark it is (0 to 4)."""

    points: str
    x: str
    y: str
    text: str
    step: int


@dataclass(frozen=True)
class ZoneMap:
    """One map ready to draw."""

    title: str
    view_box: str
    outline: str
    cells: list[Cell]


def maps(table: Table, grid: Grid, zones: list[Zone]) -> list[ZoneMap]:
    """Water, work and trouble by zone."""
    rows = {str(row["zone"]): row for row in table.dicts()}
    drawing, units = draw(grid, zones), current_units()

    def water(value: float) -> str:
        return measures.plain(value / 1000, "depth", units).split(".")[0]

    def count(value: float) -> str:
        return f"{value:.0f}"

    unit = measures.unit_text("depth", units)
    wanted = (
        (_("Water (%(unit)s)") % {"unit": unit}, "water_mm", water),
        (_("Work (entries)"), "work", count),
        (_("Trouble (hazards, bad looks)"), "trouble", count),
    )
    found = []
    for title, key, text in wanted:
        values = {label: float(row[key] or 0.0) for label, row in rows.items()}
        most = max(values.values(), default=0.0)
        cells = [
            Cell(
                drawn.points,
                f"{drawn.x:.1f}",
                f"{drawn.y:.1f}",
                text(values.get(drawn.zone.label, 0.0)),
                round(STEPS * values.get(drawn.zone.label, 0.0) / most) if most else 0,
            )
            for drawn in drawing.zones
        ]
        found.append(ZoneMap(title, drawing.view_box, drawing.outline, cells))
    return found
