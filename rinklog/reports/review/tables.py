"""What a review is made of: tables of rounded numbers. Page, PDF, CSV and spreadsheet show these and nothing else.

Numbers are rounded once, here, to the digits of their column, so that all of them agree to the last digit.
"""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

Text = str | Promise
Cell = str | int | float | None
EVERYBODY, CREW, TREASURER = "everybody", "crew", "treasurer"


@dataclass(frozen=True)
class Column:
    """One column. `unit` is SI or a report's own (m3, h, mm, days, …); `words` names the list its keys come from."""

    key: str
    title: Text
    unit: str = ""
    digits: int | None = None  # None: text, a day or a key
    words: str = ""
    mixed: bool = False  # figures of many kinds in one column: each was rounded by its own row
    said: bool = False  # sentences of ours, to be said in the reader's language

    def frozen(self, value: Any) -> Cell:
        """The value as it is shown everywhere: rounded, days in ISO 8601."""
        if value is None or isinstance(value, str) or (self.mixed and isinstance(value, int | float)):
            return value
        if isinstance(value, dt.date):
            return value.isoformat()
        if self.digits is None:
            return str(value)
        return round(value) if self.digits == 0 else round(float(value), self.digits) + 0.0

    def text(self, value: Cell) -> str:
        """A frozen value as a file writes it: always with its digits, nothing for what is not known."""
        if value is None:
            return ""
        return f"{value:.{self.digits}f}" if isinstance(value, int | float) and self.digits else str(value)

    @property
    def is_number(self) -> bool:
        """Whether its cells are numbers."""
        return self.digits is not None or self.mixed


FIGURE = (
    Column("what", lazy("What"), said=True),
    Column("value", lazy("Value"), mixed=True),
    Column("unit", lazy("Unit"), said=True),
)


@dataclass(frozen=True)
class Shape:
    """A table without its rows. `readers` says who may see it: everybody, the crew, or who sees the money."""

    key: str
    title: Text
    columns: tuple[Column, ...]
    readers: str = EVERYBODY


@dataclass(frozen=True)
class Table:
    """A table with its rows frozen, and the sentences that belong beside it."""

    shape: Shape
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()

    @classmethod
    def of(cls, shape: Shape, rows: Iterable[Sequence[Any]], notes: Iterable[object] = ()) -> "Table":
        """Freeze rows in the order of the shape's columns."""
        columns = shape.columns
        frozen = tuple(
            tuple(column.frozen(value) for column, value in zip(columns, row, strict=True)) for row in rows
        )
        return cls(shape, frozen, tuple(note if isinstance(note, str) else str(note) for note in notes))

    @classmethod
    def of_figures(
        cls, shape: Shape, rows: Iterable[tuple[object, float | None, str, int]], notes: Iterable[object] = ()
    ) -> "Table":
        """Freeze rows of (what, value, unit, digits): figures of many kinds below each other."""
        rounded = [
            (
                str(what),
                value if value is None else round(value) if digits == 0 else round(value, digits),
                unit,
            )
            for what, value, unit, digits in rows
        ]
        return cls.of(shape, rounded, notes)

    @property
    def key(self) -> str:
        """The shape's key: the name of its CSV file."""
        return self.shape.key

    def dicts(self) -> list[dict[str, Cell]]:
        """The rows by the keys of their columns."""
        keys = [column.key for column in self.shape.columns]
        return [dict(zip(keys, row, strict=True)) for row in self.rows]
