"""The tables of a season as CSV (RFC 4180): SI, the unit in the name of each column."""

import csv
import io
from collections.abc import Callable, Iterable

from rinklog.reports.season import SeasonReport

Rows = Iterable[list[object]]


def kinds(report: SeasonReport) -> Rows:
    """One row a kind of work."""
    yield ["kind", "entries", "water_m3", "labour_min"]
    for kind, sums in report.kinds.items():
        yield [kind, sums.entries, number(sums.water_m3), number(sums.labour_min)]


def weeks(report: SeasonReport) -> Rows:
    """One row a week, with the entries of each kind."""
    yield ["week_from", "entries", "water_m3", "labour_min", *report.kinds_used]
    for monday, week in report.weeks.items():
        counts = [week.by_kind.get(kind, 0) for kind in report.kinds_used]
        yield [monday.isoformat(), week.entries, number(week.water_m3), number(week.labour_min), *counts]


def people(report: SeasonReport) -> Rows:
    """One row a person."""
    yield ["person", "entries", "labour_min"]
    for name, sums in report.people.items():
        yield [name, sums.entries, number(sums.labour_min)]


TABLES: dict[str, Callable[[SeasonReport], Rows]] = {"kinds": kinds, "weeks": weeks, "people": people}


def as_csv(rows: Rows) -> str:
    """Rows as RFC 4180 text: commas, CRLF, quotes where needed."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(rows)
    return text.getvalue()


def number(value: float) -> str:
    """A number without the dust that adding floats leaves."""
    return f"{round(value, 6):.6f}".rstrip("0").rstrip(".")
