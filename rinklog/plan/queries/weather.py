"""What the plan needs to know of weather and ice. Nothing here writes."""

import datetime as dt
from dataclasses import dataclass

from rinklog.advice.queries import latest
from rinklog.ice.queries import latest_estimate
from rinklog.plan.rules.conditions import HourSeen
from rinklog.rink.models import Rink
from rinklog.weather.queries import known_hours
from rinklog.work import log_queries

FRESH = dt.timedelta(hours=6)
WET_M = 0.0005
"""Water on the ice [m] from which a coat counts as wet: half a millimetre. Common practice, no source."""

NEAR = dt.timedelta(hours=3)
ADVICE_FRESH = dt.timedelta(hours=12)
ADVICE_LOOKS = dt.timedelta(hours=48)
"""How far ahead a missing window says something: two days, within every forecast. Common practice, no source."""


def hours(rink: Rink, start: dt.datetime, end: dt.datetime) -> list[HourSeen]:
    """The known hours of a span, observed or foretold."""
    return [
        HourSeen(one.hour.at, one.hour.air_c, one.hour.wind_ms, one.hour.precip_mm)
        for one in known_hours(rink, start, end)
    ]


def coat_is_wet(rink: Rink, now: dt.datetime) -> bool:
    """Whether a coat is still wet: by the estimate while there is a fresh one, else by what the log was told."""
    estimate = latest_estimate(rink)
    if estimate is not None and abs(now - estimate.at) < FRESH:
        return any(zone.wet_top_m.middle > WET_M for zone in estimate.zones.values())
    return any(entry.kind == "flood" for entry in log_queries.open_now(rink, now))


@dataclass(frozen=True)
class Chances:
    """The chances of the flood windows that the advice knows of now, and until when it looks ahead."""

    windows: list[tuple[dt.datetime, float]]
    until: dt.datetime

    def at(self, moment: dt.datetime) -> float | None:
        """The best chance of a window that begins around a moment: none left is 0, too far ahead is unknown."""
        if moment > self.until:
            return None
        return max((chance for starts, chance in self.windows if abs(starts - moment) <= NEAR), default=0.0)


def chances(rink: Rink, now: dt.datetime) -> Chances | None:
    """The windows as advised last; None while there is no fresh advice."""
    row = latest(rink, now)
    if row is None or now - row.made_at > ADVICE_FRESH:
        return None
    windows = [(dt.datetime.fromisoformat(one["starts_at"]), float(one["chance"])) for one in row.windows]
    return Chances(windows, row.made_at + ADVICE_LOOKS)
