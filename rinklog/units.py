"""Quantities as people type and read them, to and from SI (temperatures in °C).

Factors are exact by definition (NIST SP 811, appendix B): inch 25.4 mm, pound 0.45359237 kg, US gallon 231
in³,
imperial gallon 4.54609 l. A bare "gal" is the US gallon; write "imp gal" for the other. A bare "Btu" is Btu_IT.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction


def gettext_noop(message: str) -> str:
    """Mark a message for translators; the web translates it when it shows it."""
    return message


MESSAGES = {
    "empty": gettext_noop("Nothing was given; type a number such as %(example)s."),
    "not_a_number": gettext_noop("“%(value)s” is not understood; type a number such as %(example)s."),
    "ambiguous": gettext_noop("“%(value)s” can be read in two ways; leave out the comma or write a point."),
    "unknown_unit": gettext_noop("“%(unit)s” is not a unit known here; permitted: %(allowed)s."),
    "not_finite": gettext_noop("“%(value)s” is too large to be a measurement."),
    "negative": gettext_noop("“%(value)s” is below zero; permitted: zero or more."),
    "out_of_range": gettext_noop("“%(value)s” is out of range; permitted: %(low)s to %(high)s."),
    "too_low": gettext_noop("“%(value)s” is too little; permitted: at least %(low)s."),
    "too_high": gettext_noop("“%(value)s” is too much; permitted: at most %(high)s."),
}


class UnitError(ValueError):
    """A typed quantity that cannot be used: a code and its params, worded in English by str()."""

    def __init__(self, code: str, **params: str) -> None:
        self.code, self.params = code, params
        super().__init__(MESSAGES[code] % params)

    @property
    def template(self) -> str:
        """The message with its places still open, for gettext."""
        return MESSAGES[self.code]


_US_GALLON = "gal|gals|gallon|gallons|us gal|us gallon|us gallons|gal_us"
_IMPERIAL_GALLON = "imp gal|imperial gal|imperial gallon|imperial gallons|uk gal|gal_imperial"


@dataclass(frozen=True)
class Unit:
    """A unit: `si = (value - zero) * ratio`, both exact."""

    name: str
    symbol: str
    dimension: str
    ratio: Fraction
    spellings: tuple[str, ...]
    digits: int = 1
    zero: int = 0


INCH_M = Fraction("0.0254")
FOOT_M = 12 * INCH_M
MILE_M = 5280 * FOOT_M
GALLON_US_M3 = 231 * INCH_M**3
GALLON_IMPERIAL_M3 = Fraction("0.00454609")
POUND_KG = Fraction("0.45359237")
GRAVITY_MS2 = Fraction("9.80665")
BTU_IT_J = Fraction("1055.05585262")
BTU_TH_J = Fraction("4.184") * 1000 * POUND_KG / Fraction("1.8")
ONE, MINUTE, HOUR, MILLI = Fraction(1), Fraction(60), Fraction(3600), Fraction(1, 1000)


def _unit(
    name: str, dimension: str, ratio: Fraction, spellings: str, digits: int = 1, **more: object
) -> Unit:
    symbol, zero = str(more.get("symbol", name)), int(str(more.get("zero", 0)))
    return Unit(name, symbol, dimension, ratio, tuple(spellings.split("|")), digits, zero)


_ALL = (
    _unit("mm", "length", MILLI, "mm|millimetre|millimetres|millimeter|millimeters"),
    _unit("cm", "length", 10 * MILLI, "cm|centimetre|centimetres|centimeter|centimeters"),
    _unit("m", "length", ONE, "m|metre|metres|meter|meters", 2),
    _unit("in", "length", INCH_M, "in|inch|inches|po|pouce|pouces|tomme|tommer|\"|″|”|''", 2),
    _unit("ft", "length", FOOT_M, "ft|foot|feet|pi|pied|pieds|fot|'|′|’"),
    _unit("l", "volume", MILLI, "l|litre|litres|liter|liters", 0),
    _unit("m3", "volume", ONE, "m3|m³|m^3", 2, symbol="m³"),
    _unit("gal_us", "volume", GALLON_US_M3, _US_GALLON, 0, symbol="gal"),
    _unit("gal_imperial", "volume", GALLON_IMPERIAL_M3, _IMPERIAL_GALLON, 0, symbol="imp gal"),
    _unit("C", "temperature", ONE, "c|°c|º c|ºc|° c|celsius|deg c|degc|°|℃", symbol="°C"),
    _unit("F", "temperature", Fraction(5, 9), "f|°f|ºf|° f|fahrenheit|deg f|degf|℉", 0, symbol="°F", zero=32),
    _unit("m/s", "speed", ONE, "m/s|mps"),
    _unit("km/h", "speed", 1000 / HOUR, "km/h|kmh|kph|km/t", 0),
    _unit("mph", "speed", MILE_M / HOUR, "mph|mi/h|mi/t|miles per hour", 0),
    _unit("kn", "speed", 1852 / HOUR, "kn|kt|kts|knot|knots", 0),
    _unit("l/s", "flow", MILLI, "l/s|lps", 2),
    _unit("l/min", "flow", MILLI / MINUTE, "l/min|lpm"),
    _unit("m3/h", "flow", 1 / HOUR, "m3/h|m³/h", symbol="m³/h"),
    _unit("gal/min", "flow", GALLON_US_M3 / MINUTE, "gal/min|gpm|us gpm|us gal/min"),
    _unit("imp gal/min", "flow", GALLON_IMPERIAL_M3 / MINUTE, "imp gal/min|imp gpm|uk gpm"),
    _unit("s", "duration", ONE, "s|sec|secs|second|seconds", 0),
    _unit("min", "duration", MINUTE, "min|mins|minute|minutes|minutt|minutter|m", 0),
    _unit("h", "duration", HOUR, "h|hr|hrs|hour|hours|heure|heures|t|time|timer"),
    _unit("d", "duration", 24 * HOUR, "d|day|days|j|jour|jours|døgn|dag|dager"),
    _unit("Pa", "pressure", ONE, "pa|pascal|pascals", 0),
    _unit("hPa", "pressure", Fraction(100), "hpa|mbar|millibar"),
    _unit("kPa", "pressure", Fraction(1000), "kpa"),
    _unit("psi", "pressure", POUND_KG * GRAVITY_MS2 / INCH_M**2, "psi|lb/in2|lb/in²"),
    _unit("kg/m3", "density", ONE, "kg/m3|kg/m³", 0, symbol="kg/m³"),
    _unit("lb/ft3", "density", POUND_KG / FOOT_M**3, "lb/ft3|lb/ft³", symbol="lb/ft³"),
    _unit("kJ", "energy", Fraction(1000), "kj", 0),
    _unit("kWh", "energy", 1000 * HOUR, "kwh", 2),
    _unit("Btu_IT", "energy", BTU_IT_J, "btu|btu_it", 0, symbol="Btu"),
    _unit("Btu_th", "energy", BTU_TH_J, "btu_th", 0),
    _unit("g", "mass", MILLI, "g|gram|grams", 0),
    _unit("kg", "mass", ONE, "kg|kilo|kilos|kilogram|kilograms"),
    _unit("t", "mass", Fraction(1000), "t|tonne|tonnes", 2),
    _unit("lb", "mass", POUND_KG, "lb|lbs|pound|pounds", 0),
)
UNITS = {unit.name: unit for unit in _ALL}
ALIASES = {"gal": "gal_us"}

CHOICES = {
    "depth": ("mm", "in"),
    "length": ("m", "ft"),
    "volume": ("l", "gal"),
    "temperature": ("C", "F"),
    "speed": ("km/h", "m/s", "mph"),
}
"""What a person may choose; the first is the default."""
_DIMENSION = {"depth": "length"}
EXAMPLES = {
    "length": "12 mm",
    "volume": "40 l",
    "temperature": "-5 °C",
    "speed": "10 km/h",
    "flow": "0.5 l/s",
    "duration": "1h30",
    "mass": "5 kg",
    "pressure": "200 kPa",
    "density": "300 kg/m3",
    "energy": "2 kWh",
}
_MAY_BE_NEGATIVE = {"temperature"}
_PARTS = {"length": ("ft", "in"), "duration": ("d", "h", "min", "s")}
"""Units that may follow one another, as in 5 ft 6 in and 1 h 30 min; a last bare number takes the next."""

_SPOKEN = {
    dimension: sorted(
        ((spelling, u) for u in _ALL if u.dimension == dimension for spelling in u.spellings),
        key=lambda pair: -len(pair[0]),
    )
    for dimension in EXAMPLES
}
"""Spellings of each dimension, longest first so that "mm" is not read as "m"."""
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"}
_VULGAR |= {"⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_NUMBER = re.compile(
    r"(?P<whole>[0-9]{1,9})(?:\s+|-)(?P<top>[0-9]{1,4})/(?P<bottom>[0-9]{1,4})"
    r"|(?P<top2>[0-9]{1,4})/(?P<bottom2>[0-9]{1,4})"
    r"|(?P<grouped>[0-9]{1,3}(?:[ '][0-9]{3})+(?:[.,][0-9]+)?)(?![0-9])"
    r"|(?P<plain>[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)"
)
LONGEST = 60


def unit_named(name: str) -> Unit:
    """The unit of a name in UNITS, or "gal" for the US gallon. Errors: KeyError."""
    return UNITS[ALIASES.get(name, name)]


def to_si(value: float | Fraction, unit: str) -> float:
    """A value in SI (°C for temperatures).

    Arguments: value [unit], unit. Returns: [SI]. Source: NIST SP 811.
    """
    known = unit_named(unit)
    return float((value - known.zero) * known.ratio.numerator / known.ratio.denominator)


def from_si(value_si: float, unit: str) -> float:
    """A value in a unit. Arguments: value_si [SI, °C], unit. Returns: [unit]. Source: NIST SP 811."""
    known = unit_named(unit)
    return value_si * known.ratio.denominator / known.ratio.numerator + known.zero


def number(value_si: float, unit: str, digits: int | None = None) -> str:
    """A value in a unit as plain text for a form field, trailing zeros dropped.

    Arguments: value_si [SI, °C], unit, digits after the point (the unit's own when absent). Returns: text.
    """
    places = unit_named(unit).digits if digits is None else digits
    text = f"{from_si(value_si, unit):.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def show(value_si: float, unit: str, digits: int | None = None) -> str:
    """A value with its unit for reading, "12.5 mm".

    Arguments: value_si [SI, °C], unit, digits after the point (the unit's own when absent). Returns: text.
    """
    places = unit_named(unit).digits if digits is None else digits
    text = f"{from_si(value_si, unit):.{places}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return f"{text} {unit_named(unit).symbol}"


def parse(text: str, dimension: str, unit: str, low: float | None = None, high: float | None = None) -> float:
    """Read a typed quantity: 1/2 in, 3/8", 1 1/2 in, 12 gal, 2,5 cm, 20 °F, 5' 6", 1h30, or a bare number.

    Arguments: text; dimension (depth, length, volume, temperature, speed, flow, duration, mass); unit of a
    bare number; low, high permitted [SI, °C]. Returns: [SI, °C]. Errors: UnitError with a code and params.
    """
    kind = _DIMENSION.get(dimension, dimension)
    shown = " ".join(text.split())[:LONGEST]
    value = _read(_tidy(text), shown, kind, unit_named(unit))
    if not math.isfinite(value) or abs(value) > 1e12:
        raise UnitError("not_finite", value=shown)
    if low is None and kind not in _MAY_BE_NEGATIVE and value < 0:
        raise UnitError("negative", value=shown)
    _check_range(shown, value, unit, low, high)
    return value


def _check_range(shown: str, value: float, unit: str, low: float | None, high: float | None) -> None:
    slack = 1e-9 * max(1.0, abs(value))
    under = low is not None and value < low - slack
    over = high is not None and value > high + slack
    if not (under or over):
        return
    texts = {
        name: f"{number(bound, unit, 3)} {unit_named(unit).symbol}"
        for name, bound in (("low", low), ("high", high))
        if bound is not None
    }
    code = "out_of_range" if len(texts) == 2 else ("too_low" if under else "too_high")
    raise UnitError(code, value=shown, **texts)


def _tidy(text: str) -> str:
    tidy = text.replace("−", "-").replace("–", "-").replace("⁄", "/").casefold()
    for sign, plain in _VULGAR.items():
        tidy = re.sub(rf"(?<=[0-9]){sign}", f" {plain}", tidy).replace(sign, plain)
    return " ".join(tidy.split()).rstrip(".")


def _read(text: str, shown: str, kind: str, default: Unit) -> float:
    if not text:
        raise UnitError("empty", example=EXAMPLES[kind])
    fault = UnitError("not_a_number", value=shown, example=EXAMPLES[kind])
    if len(text) > LONGEST:
        raise fault
    sign = -1 if text[0] == "-" else 1
    rest = text[1:].lstrip() if text[0] in "+-" else text
    if kind == "duration" and (clock := re.fullmatch(r"([0-9]{1,3}):([0-5][0-9])", rest)):
        return float(sign * (int(clock[1]) * 3600 + int(clock[2]) * 60))
    parts = _parts(rest, kind, fault)
    if len(parts) == 1:
        value, unit = parts[0]
        return to_si(sign * value, (unit or default).name)
    return sign * _compound(parts, _PARTS.get(kind, ()), fault)


def _parts(text: str, kind: str, fault: UnitError) -> list[tuple[Fraction, Unit | None]]:
    """Split "5 ft 6" into its numbers with their units; None where no unit follows."""
    parts, at = [], 0
    while at < len(text):
        found = _NUMBER.match(text, at)
        if found is None:
            raise fault
        unit, at = _unit_at(text, found.end(), kind, fault)
        parts.append((_value(found, fault), unit))
    if not parts:
        raise fault
    return parts


def _unit_at(text: str, at: int, kind: str, fault: UnitError) -> tuple[Unit | None, int]:
    """The unit at a place in the text, and the place after it and its spaces."""
    at += text[at : at + 1] == " "
    if at >= len(text) or text[at].isdigit():
        return None, at
    for spelling, unit in _SPOKEN[kind]:
        end = at + len(spelling)
        if text.startswith(spelling, at) and not text[end : end + 1].isalpha():
            return unit, end + (text[end : end + 1] == " ")
    name = re.match(r"[^0-9+\-.,/][^0-9+\-.,]*", text[at:])
    if name is None:
        raise fault
    allowed = ", ".join(u.symbol for u in _ALL if u.dimension == kind)
    raise UnitError("unknown_unit", unit=name.group().strip(), allowed=allowed)


def _value(found: re.Match[str], fault: UnitError) -> Fraction:
    parts = found.groupdict()
    top, bottom = parts["top"] or parts["top2"], parts["bottom"] or parts["bottom2"]
    if bottom is not None:
        if int(bottom) == 0:
            raise fault
        return int(parts["whole"] or 0) + Fraction(int(top), int(bottom))
    if parts["grouped"]:
        return Fraction(re.sub("[ ']", "", parts["grouped"]).replace(",", "."))
    plain = parts["plain"]
    if two_ways(plain):
        raise UnitError("ambiguous", value=plain)
    return Fraction(plain.replace(",", ".").rstrip("."))


def two_ways(text: str) -> bool:
    """Whether a number is 1250 to one people and 1.25 to another: "1,250". A point is always a decimal point."""
    return bool(re.fullmatch(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}", text.strip()))


def _compound(parts: list[tuple[Fraction, Unit | None]], order: tuple[str, ...], fault: UnitError) -> float:
    """Add feet and inches, or hours and minutes; each part smaller than one of the part before."""
    total, last = 0.0, -1
    for place, (value, unit) in enumerate(parts):
        if unit is None and 0 <= last < len(order) - 1 and place == len(parts) - 1:
            unit = UNITS[order[last + 1]]
        if unit is None or unit.name not in order or order.index(unit.name) <= last:
            raise fault
        if last >= 0 and value * unit.ratio >= UNITS[order[last]].ratio:
            raise fault
        last = order.index(unit.name)
        total += to_si(value, unit.name)
    return total
