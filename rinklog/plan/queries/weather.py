"""What the plan needs to know of weather and ice. Nothing here writes."""

import datetime as dt

from rinklog.plan.rules.conditions import HourSeen
from rinklog.rink.models import Rink
from rinklog.weather.queries import known_hours
from rinklog.work import log_queries


def hours(rink: Rink, start: dt.datetime, end: dt.datetime) -> list[HourSeen]:
    """The known hours of a span, observed or foretold."""
    return [
        HourSeen(one.hour.at, one.hour.air_c, one.hour.wind_ms, one.hour.precip_mm)
        for one in known_hours(rink, start, end)
    ]


def coat_is_wet(rink: Rink, now: dt.datetime) -> bool:
    """Whether a coat lies that nobody has called set or frozen; the log says so."""
    return any(entry.kind == "flood" for entry in log_queries.open_now(rink, now))
