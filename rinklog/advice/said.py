"""What the advice says, before it is words: the id of a sentence and its values in SI, each with its quantity.

Kept that way, so that everybody reads it in their own units and language.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

Value = tuple[str, Any]
"""A quantity ("depth", "temperature", "moment", "hours", "chance", "zones", "word" …) and its value in SI."""


@dataclass(frozen=True)
class Said:
    """One sentence to be worded: its id in sentences.py and the values that stand in it."""

    id: str
    values: dict[str, Value]

    def to_json(self) -> dict[str, Any]:
        """Plain values for a JSON column."""
        return {"id": self.id, "values": {name: list(value) for name, value in self.values.items()}}

    @classmethod
    def from_json(cls, kept: dict[str, Any]) -> Said:
        """What to_json wrote."""
        return cls(kept["id"], {name: (value[0], value[1]) for name, value in kept["values"].items()})


def say(id: str, **values: Value) -> Said:
    """A sentence and its values."""
    return Said(id, values)


def depth(value_m: float) -> Value:
    """A depth of snow or ice [m]."""
    return "depth", value_m


def coat(value_mm: float) -> Value:
    """A coat of water; given in mm, kept in metres."""
    return "coat", value_mm / 1000


def air(value_c: float) -> Value:
    """A temperature [°C]."""
    return "temperature", value_c


def speed(value_ms: float) -> Value:
    """A speed of wind [m/s]."""
    return "speed", value_ms


def moment(value: dt.datetime) -> Value:
    """A time, shown on the rink's clock."""
    return "moment", value.astimezone(dt.UTC).isoformat()


def hours(value_h: float) -> Value:
    """A length of time [h]."""
    return "time", round(value_h, 3)


def chance(value_frac: float) -> Value:
    """A share of forecasts [0-1]."""
    return "chance", value_frac


def water(value_m3: float) -> Value:
    """An amount of water [m³]."""
    return "water", value_m3


def count(value: float) -> Value:
    """A plain number."""
    return "count", value


def rain(value_mm: float) -> Value:
    """Precipitation as water; given in mm, kept in metres."""
    return "rain", value_mm / 1000


def word(value: str) -> Value:
    """A word of the trade by its key, from the lists in words.py."""
    return "word", value


def zones(labels: Iterable[str]) -> Value:
    """Zones by their names on the map."""
    return "zones", list(labels)


def text(value: str) -> Value:
    """Text that is shown as it is: a name, a source."""
    return "text", value
