"""Wind chill and how soon bare skin freezes, for adults; guidance only."""

from __future__ import annotations

import math

from rinklog.physics.validity import OutOfRangeError, require

FROSTBITE = ((-55, "under 2 min"), (-48, "2-5 min"), (-40, "5-10 min"), (-28, "10-30 min"))
"""Warmest rounded wind chill [°C] of each class, Environment and Climate Change Canada."""


def wind_chill_c(air_c: float, wind_kmh: float) -> float:
    """Wind chill from the wind at 10 m.

    Arguments: air_c [°C], wind_kmh [km/h]. Returns: [°C]. Validity: air at most 10 °C, wind above 4.8 km/h.
    Source: NWS and MSC 2001.
    """
    require("air_c", air_c, -80, 10, "°C")
    _require_wind("wind_kmh", wind_kmh, 4.8, 400, "km/h")
    power: float = wind_kmh**0.16
    return 13.12 + 0.6215 * air_c - 11.37 * power + 0.3965 * air_c * power


def wind_chill_f(air_f: float, wind_mph: float) -> float:
    """Wind chill from the wind at 10 m, US units.

    Arguments: air_f [°F], wind_mph [mph]. Returns: [°F]. Validity: air at most 50 °F, wind above 3 mph.
    Source: NWS and MSC 2001.
    """
    require("air_f", air_f, -112, 50, "°F")
    _require_wind("wind_mph", wind_mph, 3, 250, "mph")
    power: float = wind_mph**0.16
    return 35.74 + 0.6215 * air_f - 35.75 * power + 0.4275 * air_f * power


def rounded(value: float) -> int:
    """Nearest whole degree, halves away from zero as the charts do.

    Arguments: value. Returns: whole number.
    """
    return int(math.copysign(math.floor(abs(value) + 0.5), value))


def frostbite(wind_chill: float) -> str:
    """Time in which bare skin of most adults can freeze, by the rounded wind chill.

    Arguments: wind_chill [°C]. Returns: "low", "10-30 min", "5-10 min", "2-5 min" or "under 2 min".
    Validity: adults, dry skin. Source: Environment and Climate Change Canada.
    """
    whole = rounded(wind_chill)
    for warmest, word in FROSTBITE:
        if whole <= warmest:
            return word
    return "low"


def _require_wind(name: str, value: float, above: float, most: float, unit: str) -> None:
    if not (math.isfinite(value) and above < value <= most):
        error = OutOfRangeError(name, value, above, most, unit)
        error.args = (f"{name} is {value:g}; permitted: above {above:g}, at most {most:g} {unit}.",)
        raise error
