"""One page of paper for the day the phone dies: a plan of the zones, rows of work, rows of hazards, drill holes.

The columns are those of the form it is typed into afterwards, in the same order.
"""

import io
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from rinklog.geometry.grid import Grid as Plan
from rinklog.geometry.grid import zone_name
from rinklog.reports.review.print.fonts import BOLD, PLAIN, register

WORK_ROWS, HAZARD_ROWS, HOLE_ROWS = 12, 4, 4
ROW_MM, MARGIN_MM = 7.6, 12


@dataclass(frozen=True)
class Sheet:
    """What is printed into the page: names, the grid, what the work is called, and the unit of the water."""

    rink: str
    season: str
    plan: Plan
    ways: tuple[str, ...]
    water_unit: str
    depth_unit: str
    caution: str


def paper_log(sheet: Sheet) -> bytes:
    """The PDF's bytes: A4, one page, black on white. The same sheet gives the same bytes."""
    from reportlab.lib.pagesizes import A4
    from reportlab.lib.units import mm
    from reportlab.pdfgen.canvas import Canvas

    register()
    kept = io.BytesIO()
    canvas = Canvas(kept, pagesize=A4, invariant=True)
    canvas.setTitle(" ".join((_("Paper log"), sheet.rink)))
    page = _Page(canvas, A4[0] / mm, A4[1] / mm, mm)
    page.head(sheet)
    page.plan(sheet.plan)
    page.ways(sheet.ways)
    top = page.table(204, _work_columns(sheet), WORK_ROWS)
    page.text(MARGIN_MM, top - 7, _("Hazards"), BOLD, 10)
    top = page.table(top - 9, _hazard_columns(), HAZARD_ROWS)
    page.text(MARGIN_MM, top - 7, _("Drill holes"), BOLD, 10)
    page.table(top - 9, _hole_columns(sheet), HOLE_ROWS, until=120)
    page.text(124, top - 14, sheet.caution, PLAIN, 8, wrap=74)
    canvas.showPage()
    canvas.save()
    return kept.getvalue()


Columns = list[tuple[str, float]]


def _work_columns(sheet: Sheet) -> Columns:
    water = _("Water (%(unit)s)") % {"unit": sheet.water_unit}
    return [
        (_("Time"), 18),
        (_("Zones"), 42),
        (_("Work"), 34),
        (water, 24),
        (_("Minutes"), 20),
        (_("Who"), 48),
    ]


def _hazard_columns() -> Columns:
    return [
        (_("Time"), 18),
        (_("Zones"), 24),
        (_("What is it?"), 48),
        (_("How bad?"), 36),
        (_("Cone"), 18),
        (_("Note"), 42),
    ]


def _hole_columns(sheet: Sheet) -> Columns:
    unit = {"unit": sheet.depth_unit}
    clear, white = _("Clear (%(unit)s)") % unit, _("White (%(unit)s)") % unit
    return [(_("Time"), 18), (_("Zone"), 20), (clear, 30), (white, 30), (_("Who"), 10)]


@dataclass(frozen=True)
class _Page:
    """The page in millimetres from the lower left corner."""

    canvas: Any
    width: float
    height: float
    mm: float

    def text(self, x: float, y: float, text: str, font: str, size: float, wrap: float = 0) -> None:
        from reportlab.lib.utils import simpleSplit

        self.canvas.setFont(font, size)
        lines = simpleSplit(text, font, size, wrap * self.mm) if wrap else [text]
        for number, line in enumerate(lines):
            self.canvas.drawString(x * self.mm, y * self.mm - number * size * 1.25, line)

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float = 0.6) -> None:
        self.canvas.setLineWidth(width)
        self.canvas.line(*(value * self.mm for value in (x1, y1, x2, y2)))

    def head(self, sheet: Sheet) -> None:
        self.text(MARGIN_MM, 279, f"{sheet.rink}, {sheet.season}", BOLD, 15)
        self.text(MARGIN_MM, 270, _("Date"), BOLD, 11)
        self.line(MARGIN_MM + 14, 269, 70, 269)
        self.text(76, 270, _("Air"), BOLD, 11)
        self.line(86, 269, 110, 269)
        self.text(MARGIN_MM, 262, _("Type it in afterwards: More, Paper log."), PLAIN, 9)

    def plan(self, plan: Plan) -> None:
        """The zones with their names, the near end at the bottom, at the right of the page."""
        tall, wide = 68.0, 62.0
        scale = min(tall / plan.length_m, wide / plan.width_m)
        left, bottom = self.width - MARGIN_MM - plan.width_m * scale, 214.0
        size = min(9.0, 1.9 * min(plan.length_m / plan.rows, plan.width_m / plan.columns / 2) * scale)
        self.canvas.setLineWidth(0.5)
        for zone in plan.zones:
            box = (zone.y0_m, zone.x0_m, zone.y1_m - zone.y0_m, zone.x1_m - zone.x0_m)
            x, y, w, h = (value * scale for value in box)
            self.canvas.rect((left + x) * self.mm, (bottom + y) * self.mm, w * self.mm, h * self.mm)
            self.canvas.setFont(BOLD, max(3.5, size))
            middle = (left + x + w / 2) * self.mm, (bottom + y + h / 2) * self.mm - size / 3
            self.canvas.drawCentredString(*middle, zone_name(zone.row, zone.column))

        self.text(left - 20, bottom + 2, _("near end"), PLAIN, 8)
        self.text(left - 20, bottom + plan.length_m * scale - 4, _("far end"), PLAIN, 8)

    def ways(self, ways: tuple[str, ...]) -> None:
        """What to write under "Work", in two columns."""
        self.text(MARGIN_MM, 253, _("Work is one of these:"), BOLD, 9)
        half = (len(ways) + 1) // 2
        for number, way in enumerate(ways):
            x = MARGIN_MM + (number // half) * 60
            self.text(x, 248 - (number % half) * 4.4, way, PLAIN, 8)

    def table(self, top: float, columns: Columns, rows: int, until: float = 0) -> float:
        """Ruled rows below `top`; returns where they end."""
        right = until or self.width - MARGIN_MM
        bottom = top - 6 - rows * ROW_MM
        for number in range(rows + 1):
            self.line(MARGIN_MM, top - 6 - number * ROW_MM, right, top - 6 - number * ROW_MM)
        self.line(MARGIN_MM, top, right, top, 1)
        x = float(MARGIN_MM)
        for title, width in columns:
            self.text(x + 1, top - 4.4, title, BOLD, 8.5)
            self.line(x, top, x, bottom)
            x += width
        self.line(right, top, right, bottom)
        return bottom
