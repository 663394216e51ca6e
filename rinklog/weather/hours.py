"""One hour of weather in SI, and what was wrong with it: what every reader and provider returns.

Values hold at `at`; sums and means (precipitation, radiation) hold over the `step_s` that begin at `at`, whichever way
the source counts.
"""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, fields, replace
from typing import Any

from rinklog.units import gettext_noop


@dataclass(frozen=True)
class Hour:
    """Weather at one time. None means not known: nothing is invented."""

    at: dt.datetime  # aware UTC
    air_c: float | None = None
    dew_point_c: float | None = None
    humidity_frac: float | None = None  # over liquid water, as weather services give it
    wind_ms: float | None = None
    gust_ms: float | None = None
    wind_from_deg: float | None = None
    cloud_frac: float | None = None
    shortwave_wm2: float | None = None
    longwave_wm2: float | None = None
    pressure_pa: float | None = None
    pressure_is_station: bool | None = None  # at the station's height, or reduced to sea level
    precip_mm: float | None = None
    snow_m: float | None = None  # depth lying, measured
    step_s: int = 3600


@dataclass(frozen=True)
class Flag:
    """Something that was not used as it came: where, which value, and why."""

    where: str  # a line number or a time, as the source counts
    name: str
    value: str
    why: str  # a code of WHY

    def __str__(self) -> str:
        return f"{self.where}: {self.name} {self.value!r}: {WHY[self.why]}"


WHY = {
    "not-a-number": gettext_noop("not a number"),
    "impossible": gettext_noop("outside what nature does near the ground"),
    "doubled": gettext_noop("this hour came twice; the first is kept"),
    "out-of-order": gettext_noop("earlier than the hour before it"),
    "no-time": gettext_noop("not a time between 1850 and 2200"),
    "unknown-unit": gettext_noop("a unit that is not known here"),
    "cells": gettext_noop("not as many cells as the header has columns"),
    "no-offset": gettext_noop("not a time with its offset from UTC, such as 2026-01-15T21:00+01:00"),
    "unreadable": gettext_noop("cannot be read"),
    "partly-read": gettext_noop("a part that cannot be read; the rest is used"),
    "other-station": gettext_noop("of another station than the one asked for"),
    "empty": gettext_noop("says neither air, wind nor pressure"),
    "gap": gettext_noop("hours are missing here"),
    "spike": gettext_noop("far from the hours before and after it"),
    "gust-below-wind": gettext_noop("the gust is lower than the wind; the gust is left out"),
    "dew-above-air": gettext_noop("the dew point is above the air temperature; it is left out"),
}

YEARS = (1850, 2200)  # few instrument records are older; a clock beyond it is wrong
GUST_SLACK_MS = 0.5  # sources round wind and gust apart
DEW_SLACK_C = 0.5  # and dew point and air
SPIKE_C = (
    15.0  # a lone hour so far from both its neighbours is taken for a fault (common practice, no source)
)

# World records rounded outward (WMO World Weather & Climate Extremes Archive, from memory): −89.2 to 56.7 °C, gust
# 113 m/s, sea-level pressure 870 to 1084 hPa (station pressure lower), 305 mm of rain in an hour, 11.8 m of snow.
LIMITS: dict[str, tuple[float, float]] = {
    "air_c": (-90.0, 60.0),
    "dew_point_c": (-100.0, 40.0),
    "humidity_frac": (0.0, 1.05),
    "wind_ms": (0.0, 90.0),
    "gust_ms": (0.0, 115.0),
    "wind_from_deg": (0.0, 360.0),
    "cloud_frac": (0.0, 1.0),
    "shortwave_wm2": (0.0, 1500.0),
    "longwave_wm2": (50.0, 600.0),
    "pressure_pa": (45_000.0, 109_000.0),
    "precip_mm": (0.0, 310.0),
    "snow_m": (0.0, 12.0),
}

_LIMITS = [(name, low, high) for name, (low, high) in LIMITS.items()]


@dataclass
class Parsed:
    """What a source gave: good hours in order of time, and a flag for everything that was not used."""

    hours: list[Hour] = field(default_factory=list)
    flags: list[Flag] = field(default_factory=list)

    @property
    def gaps(self) -> list[tuple[dt.datetime, dt.datetime]]:
        """Stretches without an hour: (first missing, next present)."""
        found = []
        for one, after in zip(self.hours, self.hours[1:], strict=False):
            expected = one.at + dt.timedelta(seconds=one.step_s)
            if after.at > expected:
                found.append((expected, after.at))
        return found


def screened(rows: Iterable[tuple[str, Hour]]) -> Parsed:
    """Keep what can be used: impossible values are left out one by one, doubled, backward and timeless hours whole.

    Arguments: (where, hour) as the source has them. Returns: Parsed, every omission flagged.
    """
    parsed = Parsed()
    for where, hour in rows:
        if not plausible(hour.at):
            parsed.flags.append(Flag(where, "at", hour.at.isoformat(), "no-time"))
            continue
        clean = possible(where, hour, parsed.flags)
        last = parsed.hours[-1] if parsed.hours else None
        if last is not None and clean.at <= last.at:
            why = "doubled" if clean.at == last.at else "out-of-order"
            parsed.flags.append(Flag(where, "at", clean.at.isoformat(), why))
            continue
        parsed.hours.append(clean)
    return parsed


def plausible(at: dt.datetime) -> bool:
    """Whether a time can be one of weather; it also keeps sums of times within the calendar."""
    return YEARS[0] <= at.year <= YEARS[1]


def possible(where: str, hour: Hour, flags: list[Flag]) -> Hour:
    """The hour without its impossible values, then without those that contradict what is left; flags are added."""
    out: dict[str, None] = {}
    for name, low, high in _LIMITS:
        value = getattr(hour, name)
        if value is not None and not low <= value <= high:
            flags.append(Flag(where, name, f"{value:g}", "impossible"))
            out[name] = None
    return _consistent(where, replace(hour, **out) if out else hour, flags)  # type: ignore[arg-type]


def _consistent(where: str, hour: Hour, flags: list[Flag]) -> Hour:
    gust, wind, dew, air = hour.gust_ms, hour.wind_ms, hour.dew_point_c, hour.air_c
    if gust is not None and wind is not None and gust < wind - GUST_SLACK_MS:
        flags.append(Flag(where, "gust_ms", f"{gust:g}", "gust-below-wind"))
        hour = replace(hour, gust_ms=None)
    if dew is not None and air is not None and dew > air + DEW_SLACK_C:
        flags.append(Flag(where, "dew_point_c", f"{dew:g}", "dew-above-air"))
        hour = replace(hour, dew_point_c=None)
    return hour


def shift_back(hours: list[Hour], names: tuple[str, ...]) -> list[Hour]:
    """Move sums that a source gives at the end of their hour to the hour that begins them.

    The last hour's sum is not known yet, the first hour's belongs to the hour before the series.
    """
    at = {hour.at: hour for hour in hours}
    moved = []
    for hour in hours:
        after = at.get(hour.at + dt.timedelta(seconds=hour.step_s))
        values: dict[str, Any] = {name: getattr(after, name) if after else None for name in names}
        moved.append(replace(hour, **values))
    return moved


VALUE_NAMES = tuple(f.name for f in fields(Hour) if f.name not in ("at", "step_s", "pressure_is_station"))
Convert = Callable[[float], float]
