"""The pages: title, pictures, tables, page numbers. reportlab is imported here and below only."""

import io
from collections.abc import Iterator, Sequence
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.geometry.grid import Grid as Plan
from rinklog.reports.review.print.drawings import bars_drawing, held_drawings, maps_drawing, strip_drawing
from rinklog.reports.review.print.fonts import BOLD, PLAIN, register
from rinklog.reports.review.tables import Cell, Column, Table
from rinklog.reports.review.whole import SeasonReview
from rinklog.reports.review.words import said
from rinklog.unit_words import with_comma

MARGIN_MM = 16
MOST_ROWS = 60  # longer tables are in the spreadsheet and the CSV files
LONG = {"days", "every-flood", "held-curves", "held-intervals", "zones", "hazards"}
BREAK_BEFORE = {"weeks", "held", "zones"}
SYMBOLS = {"m3": "m³", "m2": "m²", "day": "", "days": lazy("days")}


def pdf(review: SeasonReview, tables: Sequence[Table], plan: Plan | None) -> bytes:
    """The PDF's bytes; the same review gives the same pages."""
    from reportlab.lib.pagesizes import A4
    from reportlab.lib.units import mm
    from reportlab.platypus import SimpleDocTemplate

    register()
    kept = io.BytesIO()
    margin = MARGIN_MM * mm
    document = SimpleDocTemplate(
        kept,
        pagesize=A4,
        leftMargin=margin,
        rightMargin=margin,
        topMargin=margin,
        bottomMargin=margin + 6 * mm,
        title=f"{review.rink} {review.season}",
        author=review.rink,
        invariant=True,
    )
    footer = _footer(review)
    width = A4[0] - 2 * margin
    document.build(list(_story(review, tables, plan, width)), onFirstPage=footer, onLaterPages=footer)
    return kept.getvalue()


def _footer(review: SeasonReview) -> Any:
    said_below = f"{review.rink} · {review.season}"

    def draw(canvas: Any, document: Any) -> None:
        canvas.saveState()
        canvas.setFont(PLAIN, 8)
        canvas.drawString(document.leftMargin, 28, said_below)
        canvas.drawRightString(document.pagesize[0] - document.rightMargin, 28, str(document.page))
        canvas.restoreState()

    return draw


def _story(review: SeasonReview, tables: Sequence[Table], plan: Plan | None, width: float) -> Iterator[Any]:
    from reportlab.platypus import PageBreak, Paragraph, Spacer

    styles = _styles()
    by_key = {table.key: table for table in tables}
    yield Paragraph(_("Season %(season)s in review") % {"season": review.season}, styles["title"])
    days = {"rink": review.rink, "first": review.first.isoformat(), "last": review.last.isoformat()}
    yield Paragraph(_("%(rink)s, %(first)s to %(last)s") % days, styles["plain"])
    yield Spacer(1, 8)
    pictures = {
        "figures": lambda: [strip_drawing(by_key["days"], width)],
        "weeks": lambda: [bars_drawing(by_key["weeks"], width)],
        "held": lambda: held_drawings(by_key["held"], by_key["held-curves"], width),
        "zones": lambda: [maps_drawing(by_key["zones"], plan, width)] if plan else [],
    }
    for table in tables:
        if table.key in BREAK_BEFORE:
            yield PageBreak()
        for drawing in pictures.get(table.key, list)():
            if drawing is not None:
                yield drawing
                yield Spacer(1, 6)
        yield from _table(table, width, styles)


def _table(table: Table, width: float, styles: dict[str, Any]) -> Iterator[Any]:
    from reportlab.platypus import KeepTogether, Paragraph, Spacer

    title = Paragraph(str(table.shape.title), styles["head"])
    notes = [Paragraph(_escaped(note), styles["note"]) for note in table.notes]
    if table.key in LONG and len(table.rows) > MOST_ROWS or table.key in ("days", "every-flood"):
        return
    if table.rows:
        grid = _grid(table, width, styles)
        yield KeepTogether([title, grid]) if len(table.rows) <= 20 else title
        if len(table.rows) > 20:
            yield grid
    elif notes:
        yield title
    yield from notes
    yield Spacer(1, 6)


def _grid(table: Table, width: float, styles: dict[str, Any]) -> Any:
    from reportlab.lib import colors
    from reportlab.platypus import Paragraph, TableStyle
    from reportlab.platypus import Table as Grid

    columns = table.shape.columns
    style = "small" if len(columns) > 7 else "cell"
    heads = [Paragraph(_escaped(_head(column)), styles[f"{style}-head"]) for column in columns]
    rows = [
        [_cell(column, value, styles, style) for column, value in zip(columns, row, strict=True)]
        for row in table.rows
    ]
    weights = [_weight(column, [row[place] for row in table.rows]) for place, column in enumerate(columns)]
    least = sum(weights)
    share = width if least > 46 else width * max(0.45, least / 46)
    grid = Grid(
        [heads, *rows], colWidths=[share * weight / least for weight in weights], repeatRows=1, hAlign="LEFT"
    )
    grid.setStyle(
        TableStyle(
            [
                ("LINEBELOW", (0, 0), (-1, 0), 0.8, colors.black),
                ("LINEBELOW", (0, 1), (-1, -1), 0.25, colors.grey),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("TOPPADDING", (0, 0), (-1, -1), 1.5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
                ("LEFTPADDING", (0, 0), (-1, -1), 2),
                ("RIGHTPADDING", (0, 0), (-1, -1), 4),
            ]
        )
    )
    return grid


def _weight(column: Column, values: list[Cell]) -> int:
    longest = max([len(_text(column, value)) for value in values], default=1)
    head = min(12, 1 + max(len(word) for word in _head(column).split()))  # bold: a letter more
    return min(26, max(4, head, longest + 1))


def _cell(column: Column, value: Cell, styles: dict[str, Any], style: str) -> Any:
    from reportlab.platypus import Paragraph

    return Paragraph(_escaped(_text(column, value)), styles[f"{style}-number" if column.is_number else style])


def _head(column: Column) -> str:
    unit = SYMBOLS.get(column.unit, column.unit)
    return f"{column.title} ({unit})" if unit else str(column.title)


def _text(column: Column, value: Cell) -> str:
    """The very text of the CSV file; keys in words."""
    if value is None:
        return "–"
    if column.words:
        return said(column.words, value)
    return with_comma(column.text(value)) if isinstance(value, int | float) else column.text(value)


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _styles() -> dict[str, Any]:
    from reportlab.lib.enums import TA_RIGHT
    from reportlab.lib.styles import ParagraphStyle

    plain = ParagraphStyle("plain", fontName=PLAIN, fontSize=9.5, leading=12)
    found = {
        "plain": plain,
        "title": ParagraphStyle("title", fontName=BOLD, fontSize=18, leading=22, spaceAfter=2),
        "head": ParagraphStyle("head", fontName=BOLD, fontSize=11.5, leading=14, spaceBefore=6, spaceAfter=3),
        "note": ParagraphStyle("note", plain, fontSize=8.2, leading=10.2, spaceBefore=2),
    }
    for name, size in (("cell", 8.6), ("small", 7.2)):
        found[name] = ParagraphStyle(name, plain, fontSize=size, leading=size * 1.2)
        found[f"{name}-head"] = ParagraphStyle(f"{name}-head", found[name], fontName=BOLD)
        found[f"{name}-number"] = ParagraphStyle(f"{name}-number", found[name], alignment=TA_RIGHT)
    return found
