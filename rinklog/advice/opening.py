"""What a person reads before setting the rink open or closed: reasons to close, and the last look at the ice."""

import datetime as dt
from collections import Counter
from zoneinfo import ZoneInfo

from rinklog.advice import facts
from rinklog.advice.closing import Reason, reasons
from rinklog.advice.grading import Look
from rinklog.advice.situation import HourAhead, Situation
from rinklog.clock import local_day
from rinklog.ice.queries import latest_estimate
from rinklog.rink.models import Rink
from rinklog.rink.queries import season_on
from rinklog.weather.known import HOUR
from rinklog.weather.queries import known_hours
from rinklog.work import queries as work
from rinklog.work.models import Kind

AHEAD = dt.timedelta(hours=72)
LOOK_COUNTS = dt.timedelta(hours=24)  # an older look says nothing of today; common practice, no source
ESTIMATE_COUNTS = dt.timedelta(hours=6)


def reasons_to_close(rink: Rink, now: dt.datetime) -> list[Reason]:
    """What speaks for closing now; an estimate older than six hours does not speak."""
    zone = ZoneInfo(rink.time_zone)
    season = season_on(rink, local_day(now, zone))
    if season is None:
        return []
    estimate = latest_estimate(rink)
    if estimate is not None and now - estimate.at > ESTIMATE_COUNTS:
        estimate = None
    hours = [
        HourAhead(one.hour.at, one.hour.air_c, precip_mm=one.hour.precip_mm or 0.0, observed=one.observed)
        for one in known_hours(rink, now - HOUR, now + AHEAD)
        if one.hour.air_c is not None
    ]
    zones = facts.zones_of(season, estimate)
    return reasons(Situation(now, zone, facts.rules_of(rink), zones=zones, hours=tuple(hours)))


def last_look(rink: Rink, now: dt.datetime) -> Look | None:
    """The last inspection of zones within a day, with the thinnest hole of that time; None when nobody looked."""
    rows = work.standing(rink).filter(started_at__gte=now - LOOK_COUNTS, started_at__lte=now)
    looks = [one for one in rows.filter(kind=Kind.INSPECTION) if one.zones.all()]
    if not looks:
        return None
    areas: Counter[str] = Counter()
    for row in looks[0].zones.all():
        areas[row.condition] += row.area_m2  # type: ignore[assignment]
    holes = [
        (one.details.get("clear_ice_m") or 0.0) + (one.details.get("white_ice_m") or 0.0)
        for one in rows.filter(kind=Kind.DRILL_HOLE)
    ]
    return Look(looks[0].started_at, dict(areas), min(holes, default=None))
