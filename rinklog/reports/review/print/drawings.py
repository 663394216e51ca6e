"""The pictures of the PDF, drawn from the review's tables in shades of grey, so that any printer will do."""

import datetime as dt
from collections import defaultdict
from typing import Any

from django.utils.translation import gettext as _

from rinklog.geometry.grid import Grid as Plan
from rinklog.geometry.grid import zone_name
from rinklog.reports.review.print.fonts import BOLD, PLAIN
from rinklog.reports.review.tables import Table
from rinklog.reports.review.words import said

LEFT = 46.0
OPEN_FRAC = {"open": 1.0, "partly": 0.55, "closed": 0.14}
DASHES: tuple[Any, ...] = (None, [5, 2], [1.5, 1.5], [7, 2, 1.5, 2])


def _number(value: Any) -> float:
    return float(value or 0.0)


def _text(x: float, y: float, text: str, size: float = 7.5, anchor: str = "start", bold: bool = False) -> Any:
    from reportlab.graphics.shapes import String

    return String(x, y, text, fontName=BOLD if bold else PLAIN, fontSize=size, textAnchor=anchor)


def _rect(x: float, y: float, width: float, height: float, shade: float) -> Any:
    from reportlab.graphics.shapes import Rect
    from reportlab.lib.colors import Color

    return Rect(x, y, width, height, fillColor=Color(shade, shade, shade), strokeColor=None)


def _line(x0: float, y0: float, x1: float, y1: float) -> Any:
    from reportlab.graphics.shapes import Line
    from reportlab.lib.colors import grey

    return Line(x0, y0, x1, y1, strokeColor=grey, strokeWidth=0.4)


def strip_drawing(days: Table, width: float) -> Any:
    """Every day: cold, snow cleared, floods, open or closed."""
    from reportlab.graphics.shapes import Drawing

    rows = days.dicts()
    if not any(row["entries"] or row["state"] for row in rows):
        return None
    drawing = Drawing(width, 168)
    step = (width - LEFT) / len(rows)
    colds = [max(0.0, -_number(row["low_c"])) for row in rows]
    lanes = (
        (_("Cold"), 112.0, 50.0, colds, 0.25, f"{-max(colds):.0f} °C"),
        (_("Snow"), 76.0, 28.0, [_number(row["snow_mm"]) for row in rows], 0.6, "mm"),
        (_("Floods"), 42.0, 26.0, [_number(row["floods"]) for row in rows], 0.4, ""),
        (_("Open"), 12.0, 22.0, [OPEN_FRAC.get(str(row["state"]), 0.0) for row in rows], 0.15, ""),
    )
    for title, foot, height, values, shade, unit in lanes:
        most = 1.0 if title == _("Open") else max(values) or 1.0
        drawing.add(_text(0, foot + height / 2, title, bold=True))
        top = unit if unit and unit != "mm" else f"{most:.0f} {unit}".strip() if title != _("Open") else ""
        drawing.add(_text(0, foot + height / 2 - 9, top, 6.5))
        drawing.add(_line(LEFT, foot, width, foot))
        for place, value in enumerate(values):
            if value > 0:
                drawing.add(_rect(LEFT + place * step, foot, step * 0.86, height * value / most, shade))
    for place, row in enumerate(rows):
        day = dt.date.fromisoformat(str(row["day"]))
        if day.day == 1:
            drawing.add(_text(LEFT + place * step, 2, f"{day:%Y-%m}", 6.5))
    return drawing


def bars_drawing(weeks: Table, width: float) -> Any:
    """Water and hours by week, beside each other."""
    from reportlab.graphics.shapes import Drawing

    rows = weeks.dicts()
    if not rows:
        return None
    drawing, half = Drawing(width, 128), width / 2 - 8
    for place, (title, key) in enumerate(
        ((_("Water by week (m³)"), "water_m3"), (_("Labour by week (h)"), "labour_h"))
    ):
        x0 = place * (half + 16)
        values = [_number(row[key]) for row in rows]
        most, step = max(values) or 1.0, half / len(rows)
        drawing.add(_text(x0, 118, title, bold=True))
        drawing.add(_line(x0, 14, x0 + half, 14))
        for number, value in enumerate(values):
            drawing.add(_rect(x0 + number * step + step * 0.08, 14, step * 0.84, 86 * value / most, 0.35))
            if len(rows) <= 12:
                middle = x0 + (number + 0.5) * step
                drawing.add(_text(middle, 17 + 86 * value / most, f"{value:.1f}", 5.8, "middle"))
        every = max(1, len(rows) // 6)
        for number in range(0, len(rows), every):
            drawing.add(_text(x0 + number * step, 4, str(rows[number]["week_from"])[5:], 6.2))
    return drawing


def maps_drawing(zones: Table, plan: Plan, width: float) -> Any:
    """Water, work and trouble by zone; the near end at the bottom."""
    from reportlab.graphics.shapes import Drawing, Polygon
    from reportlab.lib.colors import Color, black

    rows = {str(row["zone"]): row for row in zones.dicts()}
    third = width / 3 - 12
    scale = min(third / plan.width_m, 250 / plan.length_m)
    drawing = Drawing(width, plan.length_m * scale + 16)
    wanted = ((_("Water (mm)"), "water_mm"), (_("Work (entries)"), "work"), (_("Trouble"), "trouble"))
    for place, (title, key) in enumerate(wanted):
        x0 = place * (third + 18)
        drawing.add(_text(x0, plan.length_m * scale + 6, title, bold=True))
        most = max((_number(row[key]) for row in rows.values()), default=0.0) or 1.0
        for zone in plan.zones:
            value = _number(rows.get(zone_name(zone.row, zone.column), {}).get(key))
            shade = 1.0 - 0.45 * value / most
            points = [
                c for x, y in plan.outline_m(zone.row, zone.column) for c in (x0 + y * scale, x * scale)
            ]
            drawing.add(
                Polygon(points, fillColor=Color(shade, shade, shade), strokeColor=black, strokeWidth=0.4)
            )
            middle = x0 + (zone.y0_m + zone.y1_m) / 2 * scale, (zone.x0_m + zone.x1_m) / 2 * scale - 2.5
            drawing.add(_text(*middle, f"{value:.0f}", 7, "middle"))
    return drawing


def held_drawings(held: Table, curves: Table, width: float) -> list[Any]:
    """How long repairs held: one picture a defect of which some repair came back."""
    steps: dict[tuple[str, str], list[tuple[float, float]]] = defaultdict(list)
    for row in curves.dicts():
        steps[str(row["defect"]), str(row["method"])].append((_number(row["day"]), _number(row["holding"])))
    methods: dict[str, list[str]] = defaultdict(list)
    for row in held.dicts():
        methods[str(row["defect"])].append(str(row["method"]))
    failed = {defect for defect, _method in steps}
    return [_held(defect, known[:4], steps, width) for defect, known in methods.items() if defect in failed]


def _held(
    defect: str, methods: list[str], steps: dict[tuple[str, str], list[tuple[float, float]]], width: float
) -> Any:
    from reportlab.graphics.shapes import Drawing, PolyLine
    from reportlab.lib.colors import black

    drawing = Drawing(width, 118)
    right, foot, tall = width * 0.72, 16.0, 84.0
    drawing.add(
        _text(
            0,
            108,
            _("%(defect)s: share still holding by days") % {"defect": said("hazard", defect)},
            bold=True,
        )
    )
    most = max(day for method in methods for day, _share in steps.get((defect, method), [(1.0, 1.0)])) * 1.1
    for share in (0.0, 0.5, 1.0):
        drawing.add(_line(LEFT, foot + share * tall, right, foot + share * tall))
        drawing.add(_text(LEFT - 4, foot + share * tall - 2.5, f"{100 * share:.0f} %", 6.5, "end"))
    for part in (0.0, 0.25, 0.5, 0.75, 1.0):
        drawing.add(_text(LEFT + part * (right - LEFT), 5, f"{part * most:.1f}", 6.5, "middle"))
    taken: list[float] = []
    for dash, method in zip(DASHES, methods, strict=False):
        points, holding = [LEFT, foot + tall], 1.0
        for day, share in steps.get((defect, method), []):
            x = LEFT + day / most * (right - LEFT)
            points += [x, foot + holding * tall, x, foot + share * tall]
            holding = share
        points += [right, foot + holding * tall]
        drawing.add(PolyLine(points, strokeColor=black, strokeWidth=1.2, strokeDashArray=dash))
        y = foot + holding * tall
        while any(abs(y - other) < 9 for other in taken):
            y += 1.0 if y > foot + tall / 2 else -1.0
        taken.append(y)
        drawing.add(_text(right + 5, y - 2.5, said("method", method), 7.5))
    return drawing
