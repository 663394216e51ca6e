"""How cold it feels, and how soon bare skin can freeze: guidance for adults, by the published chart."""

from typing import Any

from django.utils.translation import gettext_lazy as lazy

from rinklog.physics.wind_chill import frostbite, wind_chill_c
from rinklog.weather.hours import Hour

MS_KMH = 3.6
WARMEST_C, CALMEST_KMH = 10.0, 4.8  # the formula's own limits
FROSTBITE: dict[str, Any] = {
    "low": lazy("low risk for bare skin; dress for it"),
    "10-30 min": lazy("bare skin can freeze in 10 to 30 minutes"),
    "5-10 min": lazy("bare skin can freeze in 5 to 10 minutes"),
    "2-5 min": lazy("bare skin can freeze in 2 to 5 minutes"),
    "under 2 min": lazy("bare skin can freeze in under 2 minutes"),
}


def chill_c(hour: Hour) -> float | None:
    """Wind chill [°C]; None where air or wind is unknown or the formula does not hold (mild, or nearly calm)."""
    if hour.air_c is None or hour.wind_ms is None:
        return None
    wind_kmh = hour.wind_ms * MS_KMH
    if not (-80 <= hour.air_c <= WARMEST_C and CALMEST_KMH < wind_kmh <= 400):
        return None
    return wind_chill_c(hour.air_c, wind_kmh)


def frostbite_class(hour: Hour) -> str:
    """The class by the chart, of the wind chill or, in calm air, of the air itself; empty when unknown or mild."""
    felt = chill_c(hour)
    if felt is None:
        felt = hour.air_c
    return "" if felt is None or felt > 0 else frostbite(felt)
