"""Sheets of signs: black on white only, for any printer and any light. Four to a page to cut, or one.

The code is as wide as the sheet allows: at four a page about 80 mm, which a phone reads from about 0.8 m
(ten times its width: common practice, no source).
"""

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rinklog.reports.printed.codes import Code, code_of
from rinklog.reports.review.print.fonts import BOLD, PLAIN, register


@dataclass(frozen=True)
class Label:
    """What stands on one sign."""

    title: str  # large: "B3", "7"
    kind: str  # small, above it: "Zone"
    says: str  # below the code: what scanning does
    address: str  # what the code reads as, also printed to be typed by hand
    rink: str


def sheets(labels: Sequence[Label], *, a_page: int) -> bytes:
    """The PDF's bytes, A4; `a_page` is 1 or 4. The same labels give the same bytes."""
    from reportlab.lib.pagesizes import A4
    from reportlab.pdfgen.canvas import Canvas

    register()
    kept = io.BytesIO()
    canvas = Canvas(kept, pagesize=A4, invariant=True)
    canvas.setTitle(labels[0].rink if labels else "rinklog")
    across = 2 if a_page == 4 else 1
    width, height = A4[0] / across, A4[1] / across
    for at, label in enumerate(labels):
        place = at % a_page
        if at and not place:
            canvas.showPage()
        x, y = (place % across) * width, A4[1] - (place // across + 1) * height
        _sign(canvas, label, x, y, width, height)
    canvas.save()
    return kept.getvalue()


def _sign(canvas: Any, label: Label, x: float, y: float, width: float, height: float) -> None:
    """One sign in its box, from the top: kind, title, code, what it does, address."""
    unit = width / 100
    middle = x + width / 2
    canvas.setLineWidth(0.3)
    canvas.setDash(2, 3)
    canvas.rect(x, y, width, height)  # where to cut
    canvas.setDash()
    side = 76 * unit
    bottom = y + 24 * unit
    _fitted(canvas, label.kind, BOLD, 6.5 * unit, middle, y + height - 11 * unit, width * 0.86)
    _fitted(canvas, label.title, BOLD, 22 * unit, middle, y + height - 31 * unit, width * 0.86)
    _code(canvas, code_of(label.address), middle - side / 2, bottom, side)
    _fitted(canvas, label.says, BOLD, 5 * unit, middle, y + 18.5 * unit, width * 0.86)
    _fitted(canvas, label.address, PLAIN, 4 * unit, middle, y + 12.5 * unit, width * 0.86)
    _fitted(canvas, label.rink, PLAIN, 4 * unit, middle, y + 7 * unit, width * 0.86)


def _code(canvas: Any, code: Code, x: float, y: float, side: float) -> None:
    module = side / code.size
    path = canvas.beginPath()
    for column, row, length in code.runs():
        path.rect(x + column * module, y + side - (row + 1) * module, length * module, module)
    canvas.drawPath(path, stroke=0, fill=1)


def _fitted(canvas: Any, text: str, font: str, size: float, x: float, y: float, width: float) -> None:
    """Centred text, smaller where it would not fit."""
    wide = canvas.stringWidth(text, font, size)
    canvas.setFont(font, size if wide <= width else size * width / wide)
    canvas.drawCentredString(x, y, text)
