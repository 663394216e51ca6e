"""From typed text to values: numbers, lists, times, files; every refusal names key, value and what is permitted."""

from __future__ import annotations

import csv
import math
import re
from datetime import datetime
from pathlib import Path
from typing import Any

from rinklog.calculators.declare import InputError, Key
from rinklog.survival.kaplan_meier import Spell

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,4})?")
MOST_BYTES = 20_000_000
LONGEST = 80
SPELLS_HEADER = ["held_days", "failed", "group"]
Rows = list[tuple[int, list[str]]]


def shown(text: str) -> str:
    """A typed value on one short line, for a message. Arguments: text. Returns: text."""
    plain = "".join(c if c.isprintable() else "?" for c in text)
    if not plain.strip():
        return "empty"
    return plain if len(plain) <= LONGEST else plain[: LONGEST - 1] + "…"


def read_value(key: Key, text: str) -> Any:
    """The value of a key: a number or list of numbers, choice, time, grid or spells.

    Arguments: key, text. Returns: value. Errors: InputError.
    """
    if key.kind == "choice":
        return _choice(key, text)
    if key.kind == "time":
        return _time(key, text)
    if key.kind in ("grid", "spells"):
        if not text.startswith("@"):
            raise InputError(key.name, shown(text), key.permitted)
        rows = _rows(key, text)
        return _grid(key, rows) if key.kind == "grid" else _spells(key, rows)
    if text.startswith("@"):
        return [_number(key, cell, line) for line, row in _rows(key, text) for cell in row]
    if "," in text:
        return [_number(key, part) for part in text.split(",")]
    return _number(key, text)


def _number(key: Key, text: str, line: int | None = None) -> float:
    place = "" if line is None else f" on line {line}"
    typed = text.strip()
    if not _NUMBER.fullmatch(typed):
        raise InputError(key.name, shown(text) + place, f"a number, {key.permitted}")
    value = float(typed)
    if not key.allows(value):
        raise InputError(key.name, shown(text) + place, key.permitted)
    return value


def _choice(key: Key, text: str) -> str:
    for word, reason in key.refused:
        if text == word:
            raise InputError(key.name, word, reason)
    if text not in key.choices:
        raise InputError(key.name, shown(text), key.permitted)
    return text


def _time(key: Key, text: str) -> datetime:
    try:
        when = datetime.fromisoformat(text)
        good = when.utcoffset() is not None and key.allows(when.year)
    except ValueError:
        good = False
    if not good:
        years = f", in the years {key.low:g} to {key.high:g}"
        raise InputError(key.name, shown(text), key.permitted + years)
    return when


def _rows(key: Key, text: str) -> Rows:
    """Rows of a CSV file with their line numbers, blank lines left out."""
    path = Path(text[1:])
    try:
        if path.stat().st_size > MOST_BYTES:
            raise InputError(key.name, shown(text), f"a file of at most {MOST_BYTES // 1_000_000} MB")
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.reader(file, strict=True)
            rows = [(reader.line_num, row) for row in reader if any(cell.strip() for cell in row)]
    except InputError:
        raise
    except (OSError, ValueError, csv.Error):
        raise InputError(key.name, shown(text), "a readable CSV file in UTF-8") from None
    if not rows:
        raise InputError(key.name, shown(text) + " (no rows)", key.permitted)
    return rows


def _grid(key: Key, rows: Rows) -> list[list[float]]:
    width = len(rows[0][1])
    for line, row in rows:
        if len(row) != width:
            text = f"{len(row)} numbers on line {line}"
            raise InputError(key.name, text, f"rows of one length, here {width}")
    if len(rows) < 2 or width < 2:
        raise InputError(key.name, f"{len(rows)} x {width}", "at least 2 rows of at least 2")
    return [[_number(key, cell, line) for cell in row] for line, row in rows]


def _spells(key: Key, rows: Rows) -> list[tuple[str | None, Spell]]:
    header = [cell.strip().casefold() for cell in rows[0][1]]
    if header in (SPELLS_HEADER, SPELLS_HEADER[:2]):
        rows = rows[1:]
    if not rows:
        raise InputError(key.name, "empty", key.permitted)
    width = len(rows[0][1])
    return [_spell(key, line, [cell.strip() for cell in row], width) for line, row in rows]


def _spell(key: Key, line: int, row: list[str], width: int) -> tuple[str | None, Spell]:
    if len(row) != width or width not in (2, 3):
        raise InputError(key.name, f"{len(row)} columns on line {line}", key.permitted)
    held = float(row[0]) if _NUMBER.fullmatch(row[0]) else math.nan
    if not 0 <= held <= 1e6:
        raise InputError(key.name, f"held_days {shown(row[0])} on line {line}", "held_days 0 to 1e+06 d")
    if row[1] not in ("0", "1"):
        raise InputError(key.name, f"failed {shown(row[1])} on line {line}", "failed 1 or 0 (still holding)")
    return (row[2] if width == 3 else None), Spell(held, row[1] == "1")
