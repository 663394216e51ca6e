"""Which unit a person reads and types each quantity in.

Values stay in the stored unit (SI, °C, minutes, l/s) everywhere but here, in the form fields and in the template
filters.
"""

from dataclasses import dataclass, replace
from typing import Any

from django.utils import formats

from rinklog import units as si
from rinklog.unit_words import SYMBOLS, symbol_of


@dataclass(frozen=True)
class Units:
    """A person's units, by the names of rinklog.units."""

    depth: str = "mm"
    length: str = "m"
    water: str = "l"
    temperature: str = "C"
    speed: str = "km/h"
    mass: str = "kg"
    flow: str = "l/min"
    meter: str = "m3"

    @property
    def us(self) -> bool:
        """Whether areas are read in square feet."""
        return self.length == "ft"


METRIC = Units()
US = Units("in", "ft", "gal", "F", "mph", "lb", "gal/min", "gal_us")


def units_of(person: Any) -> Units:
    """The units a person has chosen; metric for anybody else."""
    if not getattr(person, "is_authenticated", False):
        return METRIC
    inches, gallons = person.depth_unit == "in", person.water_unit == "gal"
    chosen = replace(
        METRIC,
        depth=person.depth_unit,
        water=person.water_unit,
        temperature=person.temperature_unit,
        speed=person.speed_unit,
    )
    if inches:
        chosen = replace(chosen, length="ft", mass="lb")
    if gallons:
        chosen = replace(chosen, flow="gal/min", meter="gal_us")
    return chosen


@dataclass(frozen=True)
class Quantity:
    """How a stored quantity is read and typed. `scale` is SI per stored unit; `plain` ones have no unit."""

    dimension: str = ""
    unit: str = ""  # a field of Units, or a unit's own name
    scale: float = 1.0
    digits: dict[str, int] | None = None


SQUARE_FOOT_M2 = 0.09290304

QUANTITIES: dict[str, Quantity] = {
    "depth": Quantity("depth", "depth", digits={"mm": 0, "in": 2}),
    "coat": Quantity("depth", "depth", digits={"mm": 1, "in": 2}),
    "rain": Quantity("depth", "depth", scale=1e-3, digits={"mm": 1, "in": 2}),
    "length": Quantity("length", "length", digits={"m": 2, "ft": 1}),
    "water": Quantity("volume", "water", digits={"l": 0, "gal": 0}),
    "meter": Quantity("volume", "meter", digits={"m3": 3, "gal_us": 0}),
    "basin": Quantity("volume", "meter", digits={"m3": 1, "gal_us": 0}),
    "temperature": Quantity("temperature", "temperature", digits={"C": 1, "F": 0}),
    "speed": Quantity("speed", "speed", digits={"km/h": 0, "m/s": 1, "mph": 0}),
    "mass": Quantity("mass", "mass", digits={"kg": 1, "lb": 1}),
    "flow": Quantity("flow", "flow", scale=1e-3, digits={"l/min": 1, "gal/min": 1}),
    "minutes": Quantity("duration", "min", scale=60, digits={"min": 0}),
    "hours": Quantity("duration", "h", scale=60, digits={"h": 1}),
    "area": Quantity(),
    "number": Quantity(),
    "days": Quantity(),
    "people": Quantity(),
    "holes": Quantity(),
}


def unit_name(quantity: str, units: Units) -> str:
    """The name of the unit this person uses for a quantity; empty for plain numbers."""
    unit = QUANTITIES[quantity].unit
    return getattr(units, unit, unit)


def unit_text(quantity: str, units: Units) -> str:
    """The unit's symbol, to stand beside a field."""
    name = unit_name(quantity, units)
    return symbol_of(name) if name else ""


def read(text: str, quantity: str, units: Units) -> float:
    """What a person typed, in the stored unit. Raises UnitError."""
    known = QUANTITIES[quantity]
    if not known.dimension:
        return _plain_number(text)
    return si.parse(text, known.dimension, unit_name(quantity, units)) / known.scale


def plain(value: float, quantity: str, units: Units) -> str:
    """A stored value for a form field: a number in the person's unit, without the unit."""
    known = QUANTITIES[quantity]
    if not known.dimension:
        return f"{value:g}"
    name = unit_name(quantity, units)
    # Two digits more than are read, so that what is shown and sent back does not drift.
    return si.number(value * known.scale, name, _digits(known, name) + 2)


def show(value: float, quantity: str, units: Units) -> str:
    """A stored value with its unit, for reading, in the language's number format."""
    known = QUANTITIES[quantity]
    if quantity == "area":
        area = value / SQUARE_FOOT_M2 if units.us else value
        return f"{_localised(area, 0)} {SYMBOLS['ft2'] if units.us else 'm²'}"
    if not known.dimension:
        return _localised(value, 0 if float(value).is_integer() else 1)
    name = unit_name(quantity, units)
    number = si.from_si(value * known.scale, name)
    return f"{_localised(number, _digits(known, name))} {symbol_of(name)}"


def bare(value: float, quantity: str, units: Units) -> str:
    """A stored value as a number without its unit, for a cell whose legend names the unit."""
    known = QUANTITIES[quantity]
    name = unit_name(quantity, units)
    return _localised(si.from_si(value * known.scale, name), _digits(known, name))


def _digits(known: Quantity, name: str) -> int:
    digits = known.digits or {}
    return digits.get(name, si.unit_named(name).digits)


def _localised(number: float, digits: int) -> str:
    rounded = round(number, digits) + 0.0  # no "-0"
    return formats.number_format(rounded, decimal_pos=digits, force_grouping=True)


def _plain_number(text: str) -> float:
    tidy = "".join(text.split())  # a language's thin or hard spaces between thousands too
    if si.two_ways(tidy):
        raise si.UnitError("ambiguous", value=text)
    try:
        number = float(tidy.replace(",", "."))
    except ValueError:
        raise si.UnitError("not_a_number", value=text, example="3") from None
    if number != number or number in (float("inf"), float("-inf")):
        raise si.UnitError("not_finite", value=text)
    return number
