"""The exported file read by parsers that are not ours: Python's csv and pandas (RFC 4180)."""

import csv
import io
import re

import pandas

from rinklog.archive.columns import HEADER
from rinklog.archive.csv_out import log_csv
from rinklog.archive.demo.fill import Filled
from rinklog.work.models import Entry, EntryEvent, Hazard, HazardEvent
from tests.support.cast import Cast

NOTE = 'He said "thin, thin"\r\nand again:\n=1+1;\té ❄️'
# OWASP, "CSV Injection": cells that begin with one of these run in a spreadsheet.
RUNS = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")
NUMBER = re.compile(r"-?\d+(\.\d+)?(e-?\d+)?")


def test_every_line_ends_as_rfc_4180_says_and_the_file_has_no_mark(cast: Cast) -> None:
    cast.flood(note="plain")
    raw = b"".join(log_csv(cast.rink))
    assert raw.endswith(b"\r\n")
    assert raw.count(b"\n") == raw.count(b"\r\n")
    assert not raw.startswith(b"\xef\xbb\xbf")
    raw.decode("utf-8")


def test_python_and_pandas_read_the_same_cells(cast: Cast) -> None:
    entry = cast.flood(note=NOTE)
    raw = b"".join(log_csv(cast.rink))
    rows = list(csv.reader(io.StringIO(raw.decode(), newline=""), strict=True))
    frame = pandas.read_csv(io.BytesIO(raw), dtype=str, keep_default_na=False, na_filter=False)
    assert rows[0] == HEADER == list(frame.columns)
    assert [list(row) for row in frame.itertuples(index=False)] == rows[1:]
    note = frame.set_index("id").loc[str(entry.id), "note"]
    assert note == "He said \"thin, thin\"\r\nand again:\n'=1+1;'\té ❄️"


def test_pandas_counts_as_many_rows_as_the_database(filled: Filled) -> None:
    frame = pandas.read_csv(io.BytesIO(b"".join(log_csv(filled.rink))), dtype=str, keep_default_na=False)
    counted = frame["record"].value_counts().to_dict()
    assert counted["entry"] == Entry.objects.count()
    assert counted["event"] == EntryEvent.objects.count()
    assert counted["hazard"] == Hazard.objects.count()
    assert counted["hazard-event"] == HazardEvent.objects.count()
    assert abs(frame["water_m3"].replace("", "0").astype(float).sum() - sum(water())) < 1e-6


def water() -> list[float]:
    return [value for value in Entry.objects.values_list("water_m3", flat=True) if value]


def test_no_cell_runs_in_a_spreadsheet_whichever_separator_it_splits_at(cast: Cast) -> None:
    for text in ("=1+1", "@SUM(A1)", "-2+3", "+4", "\t=5", "a;=6", 'b;"=7"', "c\n=8", "＝9", "'=10"):
        cast.flood(note=text, details={"by": "amount", "water": "cold", "tool": "hose"})
    text = b"".join(log_csv(cast.rink)).decode()
    for separator in (",", ";", "\t"):
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator):
            for cell in row:
                begins = cell.lstrip('"')
                assert not begins.startswith(RUNS) or NUMBER.fullmatch(cell), (separator, cell)
