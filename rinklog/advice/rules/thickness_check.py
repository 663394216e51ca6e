"""A thickness check that falls due: daily when it is mild, after a marked warming."""

import datetime as dt

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.said import Said, air, moment, say
from rinklog.advice.situation import Situation
from rinklog.clock import local_day

WARMING_WITHIN = dt.timedelta(hours=24)
SOURCE = "Insurer's rules, Highlands East ON 2017: daily above −5 °C, and after any marked warming"


def items(now: Situation) -> list[Item]:
    """Due today, with what makes it due; nothing when a hole was drilled since."""
    reason = _mild(now) or _warming(now)
    if reason is None or now.phase not in ("building", "skating"):
        return []
    last = now.holes[0].at if now.holes else None
    why = [reason, say("check.last", at=moment(last)) if last else say("check.never")]
    act = Act("log-hole", "record", {"kind": "drill-hole"})
    return [Item("thickness-check", Urgency.TONIGHT, say("check.due"), tuple(why), SOURCE, act)]


def _mild(now: Situation) -> Said | None:
    """Warmer than the rule in any hour of today so far or in the one that holds now, and no hole today."""
    limit = now.rules["thickness_check_c"]
    so_far = [hour.air_c for hour in now.today if hour.at <= now.now]
    drilled = now.holes and local_day(now.holes[0].at, now.zone) == local_day(now.now, now.zone)
    if drilled or not so_far or max(so_far) <= limit:
        return None
    return say("check.mild", air=air(max(so_far)), limit=air(limit))


def _warming(now: Situation) -> Said | None:
    """A rise of so many kelvin within a day, within the last day, and no hole since its end."""
    past = [hour for hour in now.hours if now.now - 2 * WARMING_WITHIN <= hour.at <= now.now]
    for warm in reversed(past):
        before = [h.air_c for h in past if warm.at - WARMING_WITHIN <= h.at < warm.at]
        if before and warm.air_c - min(before) >= now.rules["warming_k"]:
            since = now.holes and now.holes[0].at > warm.at
            return None if since else say("check.warming", low=air(min(before)), high=air(warm.air_c))
    return None
