"""Read a CSV file line by line in bounded memory; every complaint carries the file and the line."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from rinklog.calculators.reading import shown

LONGEST_LINE = 4096
MOST_COMPLAINTS = 10


class FileError(ValueError):
    """What is wrong with a file, one sentence a line."""


class Complaints:
    """Collects sentences about one file, and gives up after ten."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.sentences: list[str] = []

    def add(self, line: int, sentence: str) -> None:
        """Note a complaint. Errors: FileError with all of them once there are ten."""
        self.sentences.append(f"{self.path.name} line {line}: {sentence}")
        if len(self.sentences) >= MOST_COMPLAINTS:
            self.sentences.append(f"{self.path.name}: stopped after {MOST_COMPLAINTS} complaints")
            self.settle()

    def settle(self) -> None:
        """Raise FileError when there is anything to complain about."""
        if self.sentences:
            raise FileError("\n".join(self.sentences))


def rows(path: Path) -> Iterator[tuple[int, list[str]]]:
    """Rows of a UTF-8 file with their line numbers, the header first; blank lines are passed over.

    Arguments: path. Returns: (line, cells). Errors: FileError for a missing or empty file, another encoding,
    a line over 4096 bytes, or broken quotes.
    """
    number, any_row = 0, False
    try:
        with path.open("rb") as file:
            while raw := file.readline(LONGEST_LINE + 1):
                number += 1
                line = _decoded(path, number, raw)
                if not line.strip():
                    continue
                any_row = True
                yield number, [cell.strip() for cell in next(csv.reader([line], strict=True))]
    except (csv.Error, StopIteration) as error:
        raise FileError(f"{path.name} line {number}: not CSV ({error})") from None
    except OSError as error:
        raise FileError(f"{path}: cannot be read ({error.strerror})") from None
    if not any_row:
        raise FileError(f"{path.name}: the file is empty; permitted: a header and rows")


def _decoded(path: Path, number: int, raw: bytes) -> str:
    if len(raw) > LONGEST_LINE:
        raise FileError(
            f"{path.name} line {number}: longer than {LONGEST_LINE} bytes; permitted: shorter lines"
        )
    try:
        text = raw.decode("utf-8-sig" if number == 1 else "utf-8")
    except UnicodeDecodeError as error:
        byte = raw[error.start]
        raise FileError(
            f"{path.name} line {number}: byte 0x{byte:02x} is not UTF-8; permitted: a file in UTF-8"
        ) from None
    if "\0" in text:
        raise FileError(f"{path.name} line {number}: a zero byte; permitted: a text file in UTF-8")
    return text


def header(path: Path, line: int, cells: list[str], known: dict[str, str], needed: tuple[str, ...]) -> None:
    """Check a header. Arguments: known names with units, needed names. Errors: FileError naming the column."""
    complaints = Complaints(path)
    for at, name in enumerate(cells):
        if name not in known:
            complaints.add(line, f"column {shown(name)} is unknown; permitted: {', '.join(known)}")
        elif name in cells[:at]:
            complaints.add(line, f"column {name} comes twice; permitted: once")
    for name in needed:
        if name not in cells:
            complaints.add(line, f"column {name} is missing; permitted: {', '.join(needed)} and others")
    complaints.settle()


def moment(text: str) -> datetime:
    """An ISO-8601 time with its offset. Errors: ValueError with the sentence."""
    permitted = "permitted: ISO-8601 with offset, as 2026-01-15T21:00+01:00"
    try:
        when = datetime.fromisoformat(text)
    except ValueError:
        raise ValueError(f"time is {shown(text)}; {permitted}") from None
    if when.utcoffset() is None:
        raise ValueError(f"time is {shown(text)}, without an offset from UTC; {permitted}")
    return when
