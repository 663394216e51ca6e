"""Sunrise, sunset and the nights between, at the rink's own place; nothing where the place is not known."""

import datetime as dt
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog.physics.sun import Daylight, daylight
from rinklog.rink.models import Rink
from rinklog.web.weather.window import DAY

Span = tuple[dt.datetime, dt.datetime]
NOON = dt.time(12)
HALF_DAY = dt.timedelta(hours=13)
"""A little more than half: the noons of two days are not exactly a day apart."""


@dataclass(frozen=True)
class SunDay:
    """One day's sun: rise and set in UTC, None in polar night and polar day."""

    day: dt.date
    sunrise: dt.datetime | None
    sunset: dt.datetime | None
    length_min: float

    @property
    def is_dark(self) -> bool:
        """Whether the sun stays down all day."""
        return self.length_min == 0


def sun_days(rink: Rink, first: dt.date, last: dt.date, zone: ZoneInfo) -> list[SunDay]:
    """The sun of each day; an empty list without a position."""
    found = []
    for day, light in _lights(rink, first, last, zone):
        found.append(SunDay(day, light.sunrise, light.sunset, 60 * light.day_length_h))
    return found


def nights(rink: Rink, start: dt.datetime, end: dt.datetime, zone: ZoneInfo) -> list[Span]:
    """When the sun is down between two moments."""
    first, last = (moment.astimezone(zone).date() for moment in (start, end))
    lights = _lights(rink, first - DAY, last + DAY, zone)
    if not lights:
        return []
    dark, found = start, []
    for rise, fall in (_light(one) for _, one in lights):
        if rise == fall:
            continue  # the sun stays down: one long night
        if rise > dark:
            found.append((dark, min(rise, end)))
        dark = max(dark, fall)
        if dark >= end:
            return [(low, high) for low, high in found if low < high]
    return [*found, (dark, end)]


def _lights(rink: Rink, first: dt.date, last: dt.date, zone: ZoneInfo) -> list[tuple[dt.date, Daylight]]:
    if rink.latitude is None or rink.longitude is None:
        return []
    days = [first + n * DAY for n in range((last - first).days + 1)]
    return [
        (day, daylight(dt.datetime.combine(day, NOON, zone), rink.latitude, rink.longitude)) for day in days
    ]


def _light(one: Daylight) -> Span:
    """From rise to set; the whole day round noon where the sun stays up, nothing where it stays down."""
    if one.sunrise is not None and one.sunset is not None:
        return one.sunrise, one.sunset
    half = HALF_DAY if one.day_length_h else dt.timedelta(0)
    return one.noon - half, one.noon + half
