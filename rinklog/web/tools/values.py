"""Between a calculator's units and a person's: what is typed in inches reaches the calculator in millimetres.

A calculator's key has a unit of its own (mm, °C, m/s …). Where people read that kind of quantity in a unit they have
chosen, the page uses theirs; every other unit stands as it is.
"""

from dataclasses import dataclass
from typing import Any

from django.utils import formats
from django.utils.translation import gettext as _

from rinklog import units as si
from rinklog.calculators.declare import InputError, Key
from rinklog.unit_words import symbol_of
from rinklog.web.measures import Units

# unit of a key or result: (dimension of rinklog.units, its name there, which of the person's units)
PERSONAL = {
    "mm": ("depth", "mm", "depth"),
    "m": ("length", "m", "length"),
    "°C": ("temperature", "C", "temperature"),
    "m/s": ("speed", "m/s", "speed"),
    "kg": ("mass", "kg", "mass"),
    "l": ("volume", "l", "water"),
    "m³": ("volume", "m3", "meter"),
    "l/s": ("flow", "l/s", "flow"),
}


@dataclass(frozen=True)
class Shown:
    """A number as a person reads it, and the unit beside it."""

    text: str
    unit: str


def unit_beside(unit: str, units: Units) -> str:
    """The unit to show beside a key or a result."""
    if unit not in PERSONAL:
        return unit
    return symbol_of(getattr(units, PERSONAL[unit][2]))


def to_calculator(key: Key, text: str, units: Units) -> str:
    """What was typed, as the calculator reads it. Errors: InputError with the key, the value and what is allowed."""
    if text.startswith("@"):
        # The commands read files that way; a page must never read the server's.
        raise InputError(key.name, text[:40], key.permitted)
    if key.kind != "number":
        return text
    if key.unit not in PERSONAL:
        if si.two_ways(text):
            raise InputError(key.name, text[:40], key.permitted)
        return text.replace(",", ".")
    dimension, own, field = PERSONAL[key.unit]
    try:
        value = si.parse(text, dimension, getattr(units, field), low=-1e15)
    except si.UnitError as error:
        raise InputError(
            key.name, text[:40], f"{allowed(key, units)} ({_(error.template) % error.params})"
        ) from None
    return repr(round(si.from_si(value, own), 12))


def from_calculator(value: float | None, unit: str, units: Units) -> Shown:
    """A result or default in the person's unit, four digits that mean something."""
    if value is None:
        return Shown("–", "")
    if unit in PERSONAL:
        _dimension, own, field = PERSONAL[unit]
        value = si.from_si(si.to_si(value, own), getattr(units, field))
    return Shown(_digits(value), unit_beside(unit, units))


def field_text(value: Any, key: Key, units: Units) -> str:
    """A default for a form field, in the person's unit."""
    if not isinstance(value, int | float):
        return str(value)
    if key.unit in PERSONAL:
        _dimension, own, field = PERSONAL[key.unit]
        value = si.from_si(si.to_si(value, own), getattr(units, field))
    return f"{round(value, 6):.10g}"


def allowed(key: Key, units: Units) -> str:
    """What a key allows, in the person's unit."""
    if key.kind != "number" or key.unit not in PERSONAL or abs(key.low) == float("inf"):
        return key.permitted
    low, high = (from_calculator(bound, key.unit, units) for bound in (key.low, key.high))
    if abs(key.high) == float("inf"):
        return _("at least %(low)s %(unit)s") % {"low": low.text, "unit": low.unit}
    return _("%(low)s to %(high)s %(unit)s") % {"low": low.text, "high": high.text, "unit": low.unit}


def _digits(value: float) -> str:
    if value == 0:
        return "0"
    if abs(value) >= 1e6 or abs(value) < 1e-4:
        return f"{value:.4g}"
    places = max(0, 3 - len(str(int(abs(value))))) + (1 if abs(value) < 1000 else 0)
    if abs(value) < 0.1:
        places = 6
    rounded = round(value, places)
    whole = int(rounded) if rounded == int(rounded) else rounded
    return formats.number_format(whole, decimal_pos=None, force_grouping=True)
