"""The tables of a review as a page shows them: words for keys, days as people read them, the reader's units."""

import datetime as dt
from dataclasses import dataclass

from django.utils.translation import gettext_lazy as lazy

from rinklog.dates import written
from rinklog.reports.review.tables import Cell, Column, Table
from rinklog.reports.review.words import said
from rinklog.unit_words import with_comma
from rinklog.web import measures
from rinklog.web.middleware import current_units

# What a reader with other units gets in place of a review's own: (whether, quantity, stored units in one of ours).
CONVERTED = {
    "m3": ("water", "l", 1.0),
    "mm": ("depth", "mm", 1e-3),
    "°C": ("temperature", "C", 1.0),
}
SYMBOLS = {"m3": "m³", "m2": "m²", "day": "", "days": lazy("days")}


@dataclass(frozen=True)
class Shown:
    """One table ready for the page."""

    key: str
    title: str
    heads: list[tuple[str, bool]]
    rows: list[list[tuple[str, bool]]]
    notes: tuple[str, ...]

    @property
    def is_long(self) -> bool:
        """Whether it is folded away at first."""
        return len(self.rows) > 14


def shown(table: Table) -> Shown:
    """A table in the reader's words and units; metric readers see the very digits of the files."""
    columns = table.shape.columns
    heads = [(_head(column), column.is_number) for column in columns]
    rows = [
        [(cell(column, value), column.is_number) for column, value in zip(columns, row, strict=True)]
        for row in table.rows
    ]
    return Shown(table.key, str(table.shape.title), heads, rows, table.notes)


def _head(column: Column) -> str:
    unit = _unit(column.unit)
    return f"{column.title} ({unit})" if unit else str(column.title)


def _unit(unit: str) -> str:
    if other := _converted(unit):
        return measures.unit_text(other[0], current_units())
    return str(SYMBOLS.get(unit, unit))


def _converted(unit: str) -> tuple[str, float] | None:
    quantity, ours, scale = CONVERTED.get(unit, ("", "", 1.0))
    if not quantity or measures.unit_name(quantity, current_units()) == ours:
        return None
    return quantity, scale


def cell(column: Column, value: Cell) -> str:
    """One cell as text."""
    if value is None:
        return "–"
    if column.words:
        return said(column.words, value) or "–"
    if column.unit == "day":
        return written(dt.date.fromisoformat(str(value)), "j M Y")
    if (other := _converted(column.unit)) and isinstance(value, int | float):
        quantity, scale = other
        return measures.show(value * scale, quantity, current_units()).rsplit(" ", 1)[0]
    return with_comma(column.text(value)) if isinstance(value, int | float) else column.text(value)
