"""Storm watch: wind or snow turning in the forecast while the liner is loose or the fill is open."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog.advice.fill.sky import Sky

AHEAD = dt.timedelta(hours=48)
HOUR = dt.timedelta(hours=1)
# Snow is counted over this long, so that a night of flurries counts as what it leaves.
SNOW_HOURS = 12
WIND, SNOW = "wind", "snow"
TWICE = 1.5  # much worse than the limit: told once more


@dataclass(frozen=True)
class Limits:
    """From when the crew wants to know: gusts [m/s], and snow as water within twelve hours [mm]."""

    gust_ms: float
    snow_mm: float


@dataclass(frozen=True)
class Turning:
    """Something that turns: when it reaches the limit, and the worst of it; `grade` 2 is half as much again.

    `amount` is the strongest gust [m/s] or the snow as water [mm] in its worst twelve hours.
    """

    what: str
    at: dt.datetime
    amount: float
    grade: int
    key: str


def turnings(skies: Sequence[Sky], now: dt.datetime, limits: Limits, zone: ZoneInfo) -> list[Turning]:
    """What turns within two days, each with a key that is the same as long as it is the same turning.

    The key holds what, the rink's day and how bad: a forecast that shifts by hours is not told again, one that becomes
    much worse is.
    """
    ahead = sorted((s for s in skies if now - HOUR < s.at <= now + AHEAD), key=lambda sky: sky.at)
    found = [
        _turning(WIND, _gusts(ahead), limits.gust_ms, zone),
        _turning(SNOW, _snow(ahead), limits.snow_mm, zone),
    ]
    return sorted((one for one in found if one), key=lambda one: one.at)


def _gusts(skies: Sequence[Sky]) -> list[tuple[dt.datetime, float]]:
    return [(sky.at, sky.blows_ms) for sky in skies if sky.blows_ms is not None]


def _snow(skies: Sequence[Sky]) -> list[tuple[dt.datetime, float]]:
    """Snow that has fallen in the twelve hours up to the end of each [mm of water]."""
    found = []
    for sky in skies:
        since = sky.at - (SNOW_HOURS - 1) * HOUR
        found.append((sky.at, sum(one.snow_mm for one in skies if since <= one.at <= sky.at)))
    return found


def _turning(
    what: str, path: Sequence[tuple[dt.datetime, float]], limit: float, zone: ZoneInfo
) -> Turning | None:
    over = [(at, amount) for at, amount in path if amount >= limit]
    if not over:
        return None
    first, worst = over[0][0], max(amount for _, amount in over)
    grade = 2 if worst >= TWICE * limit else 1
    return Turning(what, first, worst, grade, f"storm-{what}-{first.astimezone(zone).date()}-{grade}")


def is_watched(*, phase: str, open_fill: bool, always: bool) -> bool:
    """Whether anybody wants to know: the rink is set up or built, a fill is not closed yet, or the keeper says so."""
    return always or open_fill or phase in ("setting-up", "building")
