"""How cold a shift will be for people: its worst hour, wind chill, how soon bare skin freezes. Nothing here writes."""

import datetime as dt
from dataclasses import dataclass

from rinklog.physics.wind_chill import frostbite, wind_chill_c
from rinklog.plan.queries.weather import hours
from rinklog.plan.rules.conditions import HourSeen
from rinklog.rink.models import Rink

LEAST_WIND_KMH = 4.8
WARMEST_C = 10.0
"""Wind chill is defined for wind above the one and air up to the other (NWS and MSC 2001)."""


@dataclass(frozen=True)
class Cold:
    """The hour of a span that is worst for bare skin. Guidance for adults with dry skin only."""

    at: dt.datetime
    air_c: float
    wind_ms: float | None
    chill_c: float
    frostbite: str  # "low", "10-30 min", "5-10 min", "2-5 min", "under 2 min"


def coldest(rink: Rink, start: dt.datetime, end: dt.datetime) -> Cold | None:
    """The worst known hour of a span; None while nothing is known."""
    found = [_cold(hour) for hour in hours(rink, start, end) if hour.air_c is not None]
    return min(found, key=lambda cold: cold.chill_c, default=None)


def _cold(hour: HourSeen) -> Cold:
    assert hour.air_c is not None
    kmh = 3.6 * (hour.wind_ms or 0.0)
    defined = kmh > LEAST_WIND_KMH and hour.air_c <= WARMEST_C
    chill = wind_chill_c(hour.air_c, kmh) if defined else hour.air_c
    return Cold(hour.at, hour.air_c, hour.wind_ms, chill, frostbite(chill))
