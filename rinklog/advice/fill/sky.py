"""The weather that these rules look at: hours, and the days they make from noon to noon on the rink's clock."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog.clock import night_of

# A day with fewer known hours than this is left out: its coldest or warmest hour may be the one that is missing.
KNOWN_HOURS = 18


@dataclass(frozen=True)
class Sky:
    """One hour; None is not known. precip_mm falls within it, as water."""

    at: dt.datetime
    air_c: float | None
    wind_ms: float | None = None
    gust_ms: float | None = None
    precip_mm: float | None = None

    @property
    def blows_ms(self) -> float | None:
        """The strongest wind that is known of the hour [m/s]: the gust where one is given."""
        known = [one for one in (self.wind_ms, self.gust_ms) if one is not None]
        return max(known) if known else None

    @property
    def snow_mm(self) -> float:
        """What falls as snow, as water [mm]: all of it at or below +1 °C, where half falls as snow, from memory."""
        return (self.precip_mm or 0.0) if self.air_c is not None and self.air_c <= 1.0 else 0.0


@dataclass(frozen=True)
class Day:
    """A night and the day around it, from noon of `on` to the next noon; temperatures [°C], as the hours have them."""

    on: dt.date
    low_c: float
    high_c: float
    blows_ms: float | None
    precip_mm: float
    hours: int


def days_of(skies: Iterable[Sky], zone: ZoneInfo) -> list[Day]:
    """Days from noon to noon of hours in any order, the earliest first; those with too few known hours are left out."""
    by_night: dict[dt.date, list[Sky]] = {}
    for sky in skies:
        if sky.air_c is not None:
            by_night.setdefault(night_of(sky.at, zone), []).append(sky)
    return [_day(on, by_night[on]) for on in sorted(by_night) if len(by_night[on]) >= KNOWN_HOURS]


def _day(on: dt.date, hours: list[Sky]) -> Day:
    air = [sky.air_c for sky in hours if sky.air_c is not None]
    blows = [sky.blows_ms for sky in hours if sky.blows_ms is not None]
    fall = sum(sky.precip_mm or 0.0 for sky in hours)
    return Day(on, min(air), max(air), max(blows) if blows else None, fall, len(air))
