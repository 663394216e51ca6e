"""Hours as columns of a table and back, and the short marks by which a change is noticed."""

import hashlib
from typing import Any

from rinklog.weather.hours import VALUE_NAMES, Hour

FIELDS = (*VALUE_NAMES, "pressure_is_station")
MARK_BITS = 40  # eight million of them still sum to a 63-bit number


def columns(hour: Hour) -> dict[str, Any]:
    """The column values of an hour, its time left out."""
    return {name: getattr(hour, name) for name in FIELDS}


def hour_of(at: Any, values: Any, step_s: int = 3600) -> Hour:
    """An hour from its time and the values of FIELDS in order."""
    return Hour(at=at, step_s=step_s, **dict(zip(FIELDS, values, strict=True)))


def mark_of(text: str) -> int:
    """Forty bits that stand for a text."""
    return int.from_bytes(hashlib.blake2b(text.encode(), digest_size=MARK_BITS // 8).digest(), "big")


def content_of(hour: Hour) -> str:
    """Everything an hour says, as one line."""
    return f"{hour.at.isoformat()} {hour.step_s} {[getattr(hour, name) for name in FIELDS]!r}"
