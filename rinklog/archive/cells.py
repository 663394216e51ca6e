"""Values in the cells of a CSV file: exact both ways, and harmless in a spreadsheet.

Spreadsheets run a text that begins with = + - @ as a formula. Such a text gets an apostrophe in front, and so does a
text that begins with an apostrophe, so that taking one away gives back exactly what was written. The same is done
behind ; tab and line ends, where a spreadsheet that splits at another character would see a cell begin.
"""

import datetime as dt
import json
import math
import re
from typing import Any
from urllib.parse import quote, unquote
from uuid import UUID

_BEGIN = r'(^|[;\t\r\n])("*)'
_GUARD = re.compile(_BEGIN + r"(?=[=+\-@\t\r＝＋－＠'])")
_UNGUARD = re.compile(_BEGIN + "'")
# Kept as they are in a list of names; everything else that could split it is written as %XX.
_NAME_SPLITS = re.compile(r"[%\s:]")


class BadCell(ValueError):
    """A cell that cannot be read; the message says what is allowed."""


def text(value: str) -> str:
    """Write a text so that no spreadsheet runs it."""
    return _GUARD.sub(r"\1\2'", value)


def read_text(cell: str) -> str:
    """Read a text back exactly."""
    return _UNGUARD.sub(r"\1\2", cell)


def number(value: float | None) -> str:
    """Write a number with every digit it needs to come back as the same number."""
    return "" if value is None else repr(float(value))


def read_number(cell: str) -> float | None:
    """Read a number. Errors: BadCell."""
    if not cell:
        return None
    try:
        value = float(cell)
    except ValueError:
        value = math.nan
    if not math.isfinite(value) or "_" in cell:
        raise BadCell("allowed is a number such as 12.5")
    return value


def read_whole(cell: str) -> int | None:
    """Read a whole number from 0 up. Errors: BadCell."""
    value = read_number(cell)
    if value is not None and (value < 0 or value != int(value) or value > 2_000_000_000):
        raise BadCell("allowed is a whole number from 0 up")
    return None if value is None else int(value)


def moment(value: dt.datetime | None) -> str:
    """Write a moment as ISO 8601 in UTC with its offset."""
    return "" if value is None else value.astimezone(dt.UTC).isoformat()


def read_moment(cell: str) -> dt.datetime | None:
    """Read a moment that has an offset. Errors: BadCell."""
    if not cell:
        return None
    try:
        value = dt.datetime.fromisoformat(cell)
        if value.utcoffset() is not None:
            return value.astimezone(dt.UTC)
    except (ValueError, OverflowError):
        pass
    raise BadCell("allowed is a time with its offset such as 2026-01-15T20:30:00+00:00")


def day(value: dt.date | None) -> str:
    """Write a date as ISO 8601."""
    return "" if value is None else value.isoformat()


def read_day(cell: str) -> dt.date | None:
    """Read a date. Errors: BadCell."""
    if not cell:
        return None
    try:
        return dt.date.fromisoformat(cell)
    except ValueError:
        raise BadCell("allowed is a date such as 2026-01-15") from None


def yes(value: bool) -> str:
    """Write yes, or nothing."""
    return "yes" if value else ""


def read_yes(cell: str) -> bool:
    """Read yes or nothing. Errors: BadCell."""
    if cell.lower() not in ("", "yes", "no"):
        raise BadCell("allowed is yes, or nothing")
    return cell.lower() == "yes"


def read_id(cell: str) -> UUID | None:
    """Read an id. Errors: BadCell."""
    if not cell:
        return None
    try:
        return UUID(cell)
    except ValueError:
        raise BadCell("allowed is an id such as 5f0c2f0e-58d4-4a52-9f0c-3d1f1b5a7c11") from None


def ids(values: list[UUID]) -> str:
    """Write ids, in order."""
    return " ".join(sorted(str(value) for value in values))


def read_ids(cell: str) -> tuple[UUID, ...]:
    """Read ids. Errors: BadCell."""
    return tuple(sorted({UUID(str(read_id(part))) for part in cell.split()}))


def name(value: str) -> str:
    """Write one name of a list: what could split the list is escaped."""
    return _NAME_SPLITS.sub(lambda found: quote(found[0], safe=""), value)


def pairs(values: dict[str, str]) -> str:
    """Write names with a value each: "odo:60.0 tilde:55.0"."""
    return text(" ".join(f"{name(key)}:{values[key]}" for key in sorted(values)))


def read_pairs(cell: str) -> dict[str, str]:
    """Read names with a value each. Errors: BadCell."""
    found: dict[str, str] = {}
    for part in read_text(cell).split():
        key, colon, value = part.partition(":")
        if not colon or not value or unquote(key) in found:
            raise BadCell("allowed are different names, each with a colon and a value, such as odo:60")
        found[unquote(key)] = value
    return found


def more(value: dict[str, Any]) -> str:
    """Write what has no column of its own as JSON."""
    return text(json.dumps(value, ensure_ascii=False, sort_keys=True)) if value else ""


def read_more(cell: str) -> dict[str, Any]:
    """Read a JSON object. Errors: BadCell."""
    if not cell:
        return {}
    try:
        value = json.loads(read_text(cell))
    except (ValueError, RecursionError):
        value = None
    if not isinstance(value, dict):
        raise BadCell('allowed is a JSON object such as {"result": "level"}')
    return value
