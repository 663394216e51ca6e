"""What an import would do, before it does it."""

import re
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from rinklog.archive.csv_read import Problem
from rinklog.geometry.grid import zone_name

Typed = dict[str, Any]
_GRID = re.compile(r"(\d+)x(\d+) ([\d.e+-]+)x([\d.e+-]+) r([\d.e+-]+)")


@dataclass(frozen=True)
class Shape:
    """A grid by its shape: rows, columns, length, width and corner radius [m]."""

    rows: int
    columns: int
    length_m: float
    width_m: float
    corner_m: float

    @classmethod
    def read(cls, cell: str) -> "Shape | None":
        """Read a cell such as "8x4 40.0x20.0 r4.0"; None when it is no grid."""
        found = _GRID.fullmatch(cell.strip())
        if not found:
            return None
        try:
            shape = cls(int(found[1]), int(found[2]), float(found[3]), float(found[4]), float(found[5]))
        except ValueError:
            return None
        return shape if shape.is_possible() else None

    def is_possible(self) -> bool:
        """Whether a rink can have it."""
        small = min(self.length_m, self.width_m)
        return (
            1 <= self.rows <= 40
            and 1 <= self.columns <= 40
            and small > 0
            and max(self.length_m, self.width_m) <= 1000
            and 0 <= self.corner_m <= small / 2
        )

    def labels(self) -> set[str]:
        """The names of its zones."""
        return {zone_name(row, column) for row in range(self.rows) for column in range(self.columns)}


@dataclass
class Plan:
    """The new rows by record, what is here already, what is wrong, and what a person should know."""

    new: dict[str, list[Typed]] = field(default_factory=dict)
    here: Counter[str] = field(default_factory=Counter)
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    people: dict[str, str] = field(default_factory=dict)  # login → name of those who come with the file
    strangers: list[str] = field(default_factory=list)  # logins of this site that are not of this rink

    def add(self, record: str, row: Typed) -> None:
        """Plan to write a row."""
        self.new.setdefault(record, []).append(row)

    def wrong(self, row: Typed, column: str, value: Any, reason: str) -> None:
        """Say what is wrong with a row."""
        self.problems.append(Problem(row["row"], column, str(value)[:200], reason))

    def rows(self, record: str) -> list[Typed]:
        """The new rows of one record."""
        return self.new.get(record, [])
