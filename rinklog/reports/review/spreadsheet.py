"""A review as one spreadsheet: a sheet a table, numbers as numbers with the digits they were rounded to."""

import datetime as dt
import io
import re
from collections.abc import Sequence
from typing import Any

from rinklog.reports.review.tables import Cell, Column, Table
from rinklog.reports.review.whole import SeasonReview

SHEET_NAME = 31  # as long as a sheet's name may be
WIDEST = 48


def spreadsheet(review: SeasonReview, tables: Sequence[Table]) -> bytes:
    """The workbook's bytes. Text is written as text: a cell that begins with = is no formula."""
    import xlsxwriter

    kept = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(kept, options)
    book.set_properties({"title": f"{review.rink} {review.season}", "created": _naive(review.made_at)})
    formats = {"head": book.add_format({"bold": True, "text_wrap": True, "bottom": 1})}
    for table in tables:
        sheet = book.add_worksheet(sheet_name(table.key))
        _write(book, sheet, table, formats)
    book.close()
    return kept.getvalue()


def sheet_name(key: str) -> str:
    """The name of a table's sheet."""
    return re.sub(r"[\[\]:*?/\\]", " ", key)[:SHEET_NAME]


def _naive(moment: dt.datetime) -> dt.datetime:
    return moment.astimezone(dt.UTC).replace(tzinfo=None)


def _write(book: Any, sheet: Any, table: Table, formats: dict[str, Any]) -> None:
    columns = table.shape.columns
    for place, column in enumerate(columns):
        sheet.write_string(0, place, column.key, formats["head"])
        longest = max([len(column.key), *(len(column.text(row[place])) for row in table.rows)])
        sheet.set_column(place, place, min(WIDEST, longest + 2))
    for number, row in enumerate(table.rows, start=1):
        for place, (column, value) in enumerate(zip(columns, row, strict=True)):
            _cell(book, sheet, (number, place), column, value, formats)
    for number, note in enumerate(table.notes, start=len(table.rows) + 2):
        sheet.write_string(number, 0, note)
    sheet.freeze_panes(1, 0)


def _cell(
    book: Any, sheet: Any, at: tuple[int, int], column: Column, value: Cell, formats: dict[str, Any]
) -> None:
    if value is None:
        return
    if isinstance(value, str):
        sheet.write_string(*at, value)
        return
    digits = column.digits or 0
    shown = "General" if column.mixed else "0" if digits == 0 else f"0.{'0' * digits}"
    if shown not in formats:
        formats[shown] = book.add_format({"num_format": shown})
    sheet.write_number(*at, value, formats[shown])
