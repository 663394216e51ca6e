"""The symbols of units as each language writes them: « 12 km/t » in Norwegian, « 3 po » in French.

`units.py` stays without Django; its own symbols hold wherever no language has another.
"""

from django.utils import formats
from django.utils.translation import pgettext_lazy

from rinklog import units

# Only units whose symbol is a word of a language; mm, kg, °C and the like are the same everywhere (SI Brochure, 5.1).
SYMBOLS = {
    "in": pgettext_lazy("unit", "in"),
    "ft": pgettext_lazy("unit", "ft"),
    "ft2": pgettext_lazy("unit", "ft²"),
    "gal_us": pgettext_lazy("unit", "gal"),
    "km/h": pgettext_lazy("unit", "km/h"),
    "mph": pgettext_lazy("unit", "mph"),
    "gal/min": pgettext_lazy("unit", "gal/min"),
    "lb": pgettext_lazy("unit", "lb"),
    "h": pgettext_lazy("unit", "h"),
}


def symbol_of(unit: str) -> str:
    """The symbol of a unit of rinklog.units in the language of the moment. Errors: KeyError."""
    known = units.unit_named(unit)
    return str(SYMBOLS.get(known.name, known.symbol))


def with_comma(number: str) -> str:
    """A plain number as the language writes it: "12.50" is « 12,50 » in French."""
    return number.replace(".", str(formats.get_format("DECIMAL_SEPARATOR")))
