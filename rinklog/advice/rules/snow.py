"""Snow on the ice: clear it, with what, by when, and what it costs until then; or wait while it still falls."""

import datetime as dt

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.rules import snow_left_on
from rinklog.advice.said import Said, count, depth, hours, moment, rain, say, word, zones
from rinklog.advice.situation import HOUR, Situation, ZoneNow
from rinklog.physics.snow import critical_snow_m

LEAST_SNOW_M = 0.003  # less is swept with the next scrape; common practice, no source
FALLING_MM_H = 0.1  # the least that weather services report
PAUSE_H = (
    3  # a pause in the forecast shorter than this is not the end of a snowfall; common practice, no source
)
WITHIN = dt.timedelta(hours=24)  # Saskatoon: within 24 hours
NEW_SNOW_KGM3 = 120.0  # fresh to settled: 60 to 200, from memory
SLUSH_WATER_M = 0.002


def items(now: Situation) -> list[Item]:
    """Clear, or wait; nothing when there is no snow or when it is better left on."""
    snowed = [zone for zone in now.zones if zone.snow_m and zone.snow_m.middle >= LEAST_SNOW_M]
    stops = snow_stops(now)
    if snow_left_on.shields(now):
        return []
    if stops is not None and (snowed or snow_mm(now, stops) > 0.5):
        return [_wait(now, snowed, stops)]
    return [_clear(now, snowed)] if snowed else []


def snow_stops(now: Situation) -> dt.datetime | None:
    """When the snow that falls now ends; None when none falls in this hour or the next."""
    ahead = now.ahead
    if not any(hour.snow_mm >= FALLING_MM_H for hour in ahead[:2]):
        return None
    last = None
    for place, hour in enumerate(ahead):
        if hour.snow_mm >= FALLING_MM_H:
            last = place
        elif last is not None and place - last >= PAUSE_H:
            break
    assert last is not None
    return ahead[last].at + HOUR


def snow_mm(now: Situation, until: dt.datetime) -> float:
    """Snow still to fall until a time, as water [mm]."""
    return sum(hour.snow_mm for hour in now.ahead if hour.at < until)


def deepest(snowed: list[ZoneNow]) -> float:
    """The deepest snow [m]."""
    return max((zone.snow_m.middle for zone in snowed if zone.snow_m), default=0.0)


def _wait(now: Situation, snowed: list[ZoneNow], stops: dt.datetime) -> Item:
    why = [say("snow.more-to-come", water=rain(snow_mm(now, stops)))]
    return Item(
        "snow-wait",
        Urgency.TONIGHT,
        say("snow.wait", snow=depth(deepest(snowed)), stops=moment(stops)),
        tuple(why),
        "Ritchie league, Edmonton: wait till it stops",
    )


def _clear(now: Situation, snowed: list[ZoneNow]) -> Item:
    window = now.window_tonight
    by = window.starts_at if window else now.now + WITHIN
    why: list[Said] = []
    if window:
        why.append(say("snow.before-flood", starts=moment(window.starts_at)))
    if now.snow_loss and now.snow_loss.hours >= 0.5:
        loss = now.snow_loss
        why.append(
            say(
                "snow.costs",
                hours=hours(loss.hours),
                until=moment(loss.until),
                bare=depth(loss.bare_m),
                snowed=depth(loss.snowed_m),
            )
        )
    drowning = [zone for zone in snowed if drowns(zone)]
    if drowning:
        limit = min(_carries_m(zone) for zone in drowning)
        why.append(say("snow.slush", limit=depth(limit), zones=zones(zone.label for zone in drowning)))
    why.append(_tool(now, snowed))
    soon = bool(drowning) or (window is not None and window.starts_at - now.now <= 6 * HOUR)
    return Item(
        "snow-clear",
        Urgency.NOW if soon else Urgency.TONIGHT,
        say(
            "snow.clear",
            snow=depth(deepest(snowed)),
            by=moment(by),
            zones=zones(zone.label for zone in snowed),
            many=count(len(snowed)),
        ),
        tuple(why),
        "Saskatoon: within 24 hours; Montreal guide: 3 cm up machines, less a scraper or brush",
        Act("log-snow", "record", {"kind": "snow-removal"}, {"zones": [zone.id for zone in snowed]}),
    )


def drowns(zone: ZoneNow) -> bool:
    """Whether the snow is heavier than the floating ice carries: only where water remains beneath."""
    if zone.water_under_m < SLUSH_WATER_M or zone.snow_m is None:
        return False
    return zone.snow_m.middle >= _carries_m(zone)


def _carries_m(zone: ZoneNow) -> float:
    return float(critical_snow_m(zone.thickness_m.middle if zone.thickness_m else 0.0, NEW_SNOW_KGM3))


def _tool(now: Situation, snowed: list[ZoneNow]) -> Said:
    limit = now.rules["snow_clear_m"]
    tool = "machines" if deepest(snowed) >= limit - 1e-9 else "scraper"
    return say("snow.tool", tool=word(tool), limit=depth(limit))
