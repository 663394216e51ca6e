"""What speaks for closing the rink. It can only speak for closing: no estimate and no forecast ever opens it."""

import datetime as dt
from dataclasses import dataclass

from rinklog.advice.rules.thaw import stretch
from rinklog.advice.rules.wet_coat import WET_M
from rinklog.advice.situation import HOUR, Situation, ZoneNow

SOON = dt.timedelta(hours=24)


@dataclass(frozen=True)
class Reason:
    """One thing that speaks for closing: what, where, and how much of it by which limit.

    wet: liquid or slush on the ice [m]; thin: the thinnest zone's middle estimate [m]; warm, cold: air now [°C];
    thaw: hours above freezing from `at` on.
    """

    key: str
    amount: float
    limit: float
    zones: tuple[str, ...] = ()
    at: dt.datetime | None = None


def reasons(now: Situation) -> list[Reason]:
    """What speaks for closing, what is worst for skaters first; nothing where nothing is known."""
    found = [_wet(now), _thin(now), *_air(now), _thaw(now)]
    return [one for one in found if one is not None]


def _wet(now: Situation) -> Reason | None:
    wet = [(zone, zone.wet_m.middle) for zone in now.zones if zone.wet_m and zone.wet_m.middle >= WET_M]
    return (
        Reason("wet", max(depth for _, depth in wet), WET_M, _labels([zone for zone, _ in wet]))
        if wet
        else None
    )


def _thin(now: Situation) -> Reason | None:
    least_m = now.rules["skate_thickness_m"]
    known = [(zone, zone.thickness_m.middle) for zone in now.zones if zone.thickness_m]
    thin = [(zone, ice) for zone, ice in known if ice < least_m]
    return (
        Reason("thin", min(ice for _, ice in thin), least_m, _labels([zone for zone, _ in thin]))
        if thin
        else None
    )


def _air(now: Situation) -> list[Reason]:
    """Air of this hour: Ritchie league, Edmonton closes above 0 °C and below −20 °C; the rink has its own limits."""
    this = next((hour for hour in now.hours if hour.at <= now.now < hour.at + HOUR), None)
    if this is None:
        return []
    warm_c, cold_c = now.rules["close_warm_c"], now.rules["close_cold_c"]
    if this.air_c > warm_c:
        return [Reason("warm", this.air_c, warm_c, at=this.at)]
    return [Reason("cold", this.air_c, cold_c, at=this.at)] if this.air_c < cold_c else []


def _thaw(now: Situation) -> Reason | None:
    warm = stretch(now)
    if warm is None or warm[0].at - now.now > SOON:
        return None
    return Reason("thaw", float(len(warm)), now.rules["thaw_hours"], at=max(warm[0].at, now.now))


def _labels(zones: list[ZoneNow]) -> tuple[str, ...]:
    return tuple(zone.label for zone in zones)
