"""The winter as it was: degree days, snow, wind and thaws, by rink-local day, from the hours that are known.

Freezing degree days are the sum of how far each day's mean air was below 0 °C, thawing degree days of how far above
(the usual definition, e.g. EM 1110-2-1612). A day counts when at least 18 of its hours are known.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from rinklog.weather.hours import Hour

LEAST_HOURS = 18
HOUR_S = 3600
STRONG_WIND_MS = 10.8  # Beaufort 6, strong breeze (WMO)


@dataclass
class WeatherDay:
    """One day: mean, lowest and highest air [°C], precipitation while freezing and not [mm], deepest snow [m],
    strongest wind [m/s] and how many hours are known."""

    mean_c: float
    low_c: float
    high_c: float
    snow_mm: float  # water equivalent
    rain_mm: float
    depth_m: float | None
    wind_ms: float | None
    hours: int

    @property
    def counts(self) -> bool:
        """Whether enough of the day is known."""
        return self.hours >= LEAST_HOURS


@dataclass
class Winter:
    """A season's weather; empty when none is stored."""

    days: dict[dt.date, WeatherDay] = field(default_factory=dict)
    hours: dict[int, Hour] = field(default_factory=dict)  # by full hours since 1970

    @property
    def known(self) -> bool:
        """Whether there is any."""
        return any(day.counts for day in self.days.values())

    @property
    def counting(self) -> list[WeatherDay]:
        """The days of which enough is known."""
        return [day for day in self.days.values() if day.counts]

    @property
    def freezing_degree_days(self) -> float:
        """[°C·d]."""
        return sum(max(0.0, -day.mean_c) for day in self.counting)

    @property
    def thawing_degree_days(self) -> float:
        """[°C·d]."""
        return sum(max(0.0, day.mean_c) for day in self.counting)

    @property
    def thaw_days(self) -> int:
        """Days whose mean was above freezing between the first and the last day below it."""
        frozen = [date for date, day in self.days.items() if day.counts and day.mean_c < 0]
        if not frozen:
            return 0
        return sum(
            day.counts and day.mean_c > 0 for date, day in self.days.items() if frozen[0] < date < frozen[-1]
        )

    def at(self, moment_s: float) -> Hour | None:
        """The hour a moment [s since 1970] lies in."""
        return self.hours.get(int(moment_s // HOUR_S))

    def between(self, start_s: float, end_s: float) -> list[Hour]:
        """The known hours that touch a stretch [s since 1970]."""
        hours = range(int(start_s // HOUR_S), -int(-end_s // HOUR_S))
        return [self.hours[hour] for hour in hours if hour in self.hours]


def winter_of(hours: Iterable[Hour], zone: ZoneInfo) -> Winter:
    """Gather hours into rink-local days."""
    found = Winter()
    by_day: dict[dt.date, list[Hour]] = defaultdict(list)
    for hour in hours:
        found.hours[int(hour.at.timestamp() // HOUR_S)] = hour
        by_day[hour.at.astimezone(zone).date()].append(hour)
    for date in sorted(by_day):
        if day := _day(by_day[date]):
            found.days[date] = day
    return found


def _day(hours: list[Hour]) -> WeatherDay | None:
    airs = [hour.air_c for hour in hours if hour.air_c is not None]
    if not airs:
        return None
    wet = [(hour.precip_mm or 0.0, (hour.air_c or 0.0) < 0) for hour in hours]
    return WeatherDay(
        mean_c=sum(airs) / len(airs),
        low_c=min(airs),
        high_c=max(airs),
        snow_mm=sum(mm for mm, cold in wet if cold),
        rain_mm=sum(mm for mm, cold in wet if not cold),
        depth_m=max((hour.snow_m for hour in hours if hour.snow_m is not None), default=None),
        wind_ms=max((hour.wind_ms for hour in hours if hour.wind_ms is not None), default=None),
        hours=len(airs),
    )
