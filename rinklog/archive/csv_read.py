"""Reading a CSV file as people's programs write it: other encodings, other separators, broken rows named one by one."""

import codecs
import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass, field

from django.utils.translation import gettext as _

from rinklog.archive.columns import BY_NAME, COLUMNS, RECORDS

MOST_BYTES = 64 * 1024 * 1024
MOST_ROWS = 100_000
LONGEST_CELL = 100_000
SEPARATORS = ",;\t"


class Unreadable(Exception):
    """The whole file cannot be read; one sentence says why."""


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong: the row as a spreadsheet counts it, the column, the value and the reason."""

    row: int
    column: str
    value: str
    reason: str


@dataclass
class Table:
    """The rows of a file by column name, what was wrong with some, and what was noticed on the way."""

    rows: list[tuple[int, dict[str, str]]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    decimal_comma: bool = False


def read_table(raw: bytes) -> Table:
    """Read a file. Errors: Unreadable."""
    if len(raw) > MOST_BYTES:
        raise Unreadable(
            _("The file has %(size)d MB; allowed are %(most)d. Import it season by season.")
            % {"size": len(raw) // 2**20, "most": MOST_BYTES // 2**20}
        )
    table = Table()
    text = decode(raw, table)
    separator = separator_of(text)
    table.decimal_comma = separator != ","
    if separator != ",":
        table.notes.append(_("The columns are split by semicolons or tabs; read so."))
    records = split(text, separator)
    header = [name.strip() for name in next(records, (0, []))[1]]
    check_header(header)
    for number, cells in records:
        take_row(table, header, number, cells)
        if len(table.rows) > MOST_ROWS:
            raise Unreadable(
                _("The file has more than %(most)d rows. Import it season by season.") % {"most": MOST_ROWS}
            )
    check_needed(header, table)
    return table


def decode(raw: bytes, table: Table) -> str:
    """The file's text: UTF-8, UTF-16 with its mark, else Windows-1252, which is said."""
    is_utf16 = raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    for encoding in ("utf-16",) if is_utf16 else ("utf-8-sig", "cp1252"):
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if encoding == "cp1252":
            table.notes.append(
                _("The file is not UTF-8; it was read as Windows-1252. Look at the names and notes.")
            )
        return text
    raise Unreadable(_("The file is no text that can be read; save it as CSV in UTF-8."))


def separator_of(text: str) -> str:
    """The separator that splits the first line into the most known columns."""
    first = text[:20_000].splitlines()[0] if text.strip() else ""
    return max(SEPARATORS, key=lambda one: len(set(first.replace('"', "").split(one)) & set(BY_NAME)))


def split(text: str, separator: str) -> Iterator[tuple[int, list[str]]]:
    """The rows with their numbers, the header as row 1. Errors: Unreadable."""
    csv.field_size_limit(LONGEST_CELL)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    number = 0
    while True:
        number += 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error:
            raise Unreadable(
                _("Row %(row)d cannot be split into cells: a quotation mark is left open or stands alone.")
                % {"row": number}
            ) from None
        yield number, cells


def check_header(header: list[str]) -> None:
    """Know every column, and have it once. Errors: Unreadable."""
    if "record" not in header:
        raise Unreadable(_("The first row has no column “record”; it is no work log of this kind."))
    unknown = [name for name in header if name not in BY_NAME]
    twice = [name for name in header if header.count(name) > 1]
    if unknown or twice:
        raise Unreadable(
            _("The column “%(name)s” is unknown or there twice; README lists the columns.")
            % {"name": (unknown or twice)[0][:60]}
        )


def check_needed(header: list[str], table: Table) -> None:
    """Have the columns that the records in the file cannot do without. Errors: Unreadable."""
    present = {row["record"] for _number, row in table.rows}
    missing = [
        column.name for column in COLUMNS if column.name not in header and present & set(column.needed)
    ]
    if missing:
        raise Unreadable(_("These columns are missing: %(names)s.") % {"names": ", ".join(missing)})


def take_row(table: Table, header: list[str], number: int, cells: list[str]) -> None:
    """Put one row on the table, or say what is wrong with it."""
    if not any(cell.strip() for cell in cells):
        return
    if len(cells) != len(header):
        reason = _("the row has %(cells)d cells, the header has %(columns)d") % {
            "cells": len(cells),
            "columns": len(header),
        }
        table.problems.append(Problem(number, "record", cells[0], reason))
        return
    row = dict(zip(header, cells, strict=True))
    for name, cell in row.items():
        if "\0" in cell:
            table.problems.append(Problem(number, name, cell.replace("\0", "␀"), _("a NUL byte is in it")))
            return
    if row["record"] not in RECORDS:
        allowed = _("allowed are %(names)s") % {"names": ", ".join(RECORDS)}
        table.problems.append(Problem(number, "record", row["record"], allowed))
        return
    table.rows.append((number, row))
