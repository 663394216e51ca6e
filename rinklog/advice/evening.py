"""The evening's cold for people: the hour with the worst wind chill, and how soon bare skin freezes. Pure."""

from typing import Any

from rinklog.advice.situation import HOUR, HourAhead, Situation
from rinklog.clock import local
from rinklog.physics.wind_chill import frostbite, wind_chill_c

EVENING = range(16, 24)
LEAST_WIND_KMH = 4.8  # below it the formula does not hold; the air itself is felt
WARMEST_C = 10.0


def evening(now: Situation) -> dict[str, Any] | None:
    """The hour of this evening that feels coldest; None when nothing is known of it."""
    start, end = now.tonight
    hours = [
        hour
        for hour in now.hours
        if start <= hour.at < end and hour.at > now.now - HOUR and local(hour.at, now.zone).hour in EVENING
    ]
    if not hours:
        return None
    worst = min(hours, key=chill_c)
    felt = chill_c(worst)
    return {
        "at": worst.at.isoformat(),
        "air_c": worst.air_c,
        "wind_ms": worst.wind_ms,
        "chill_c": felt,
        "frostbite": frostbite(felt),
    }


def chill_c(hour: HourAhead) -> float:
    """What the air feels like [°C]: the wind chill where it is defined, else the air itself."""
    kmh = (hour.wind_ms or 0.0) * 3.6
    if kmh <= LEAST_WIND_KMH or not -80 <= hour.air_c <= WARMEST_C:
        return hour.air_c
    return wind_chill_c(hour.air_c, kmh)
