"""Known hours of weather into what the column marches: nothing invented beyond three hours without saying so."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from rinklog.physics.column import Weather
from rinklog.physics.column.state import Floats
from rinklog.physics.constants import GRAVITY_MS2, PRESSURE_PA, R_AIR_JKGK, ZERO_C_K
from rinklog.physics.sun import haurwitz_wm2, position
from rinklog.weather.hours import Hour
from rinklog.weather.humid import humidity_frac
from rinklog.weather.known import KnownHour

HOUR = dt.timedelta(hours=1)
HOUR_S = 3600.0
BRIDGE_H = 3
"""Missing hours up to here are bridged in a line without a word; more are a gap, and said to be one."""
ASSUMED = {"humidity_frac": 0.8, "wind_ms": 2.0, "cloud_frac": 0.5, "pressure_pa": PRESSURE_PA}
"""Where a source gives no such value at all; the same as the column's own."""
SUN_LOOKS = 4
CLOUD_DIMS, CLOUD_POWER = 0.75, 3.4
"""Sun under cloud: 1 - 0.75 c^3.4 of a clear sky's (Kasten & Czeplak 1980)."""
LIMITS = {"air_c": (-60.0, 50.0), "wind_ms": (0.0, 60.0), "pressure_pa": (45_000.0, 109_000.0)}
FIELDS = ("air_c", "humidity_frac", "wind_ms", "cloud_frac", "sun_wm2", "pressure_pa", "precip_kgm2")
Gap = tuple[dt.datetime, dt.datetime]


class Place(NamedTuple):
    """Where the rink lies; altitude_m None where it is not known."""

    latitude: float
    longitude: float
    altitude_m: float | None = None


@dataclass(frozen=True)
class Prepared:
    """Weather of every hour from `start`: base values (hours,), longwave NaN where it follows from air and cloud.

    lead_h: NaN where observed, else how old the forecast was; bridged: nothing was known. gaps are over three hours.
    """

    start: dt.datetime
    values: dict[str, Floats]
    longwave_wm2: Floats
    lead_h: Floats
    bridged: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]
    gaps: list[Gap]
    sources: dict[int, str]
    forecast_made_at: dt.datetime | None = None

    @property
    def hours(self) -> int:
        """How many hours there are."""
        return len(self.lead_h)

    @property
    def end(self) -> dt.datetime:
        """The end of the last hour."""
        return self.start + self.hours * HOUR

    def source_at(self, at: dt.datetime) -> str:
        """Where the last hour known by then came from."""
        number = (at - self.start) // HOUR
        return self.sources[max((n for n in self.sources if n <= number), default=min(self.sources))]

    def between(self, first: dt.datetime, count: int) -> Weather:
        """The plain weather of some hours."""
        rows = slice((first - self.start) // HOUR, (first - self.start) // HOUR + count)
        values = {name: value[rows] for name, value in self.values.items()}
        return replace(
            self, start=first, values=values, longwave_wm2=self.longwave_wm2[rows], lead_h=self.lead_h[rows]
        ).plain()

    def plain(self) -> Weather:
        """The weather without members, as `physics.column.march` takes it."""
        longwave = None if np.isnan(self.longwave_wm2).any() else self.longwave_wm2
        return Weather(hold_s=np.full(self.hours, HOUR_S), longwave_wm2=longwave, **self.values)


def weather_of(hours: Sequence[KnownHour], place: Place) -> tuple[Weather, list[Gap]]:
    """Weather for the column, one step an hour, and the gaps in it.

    Arguments: hours in order, place. Returns: Weather from the first hour to the last, and stretches of over three hours
    in which nothing was known. Errors: ValueError without a single air temperature.
    """
    known = prepare(hours, place)
    return known.plain(), known.gaps


def prepare(
    hours: Sequence[KnownHour], place: Place, start: dt.datetime | None = None, end: dt.datetime | None = None
) -> Prepared:
    """Hours from `start` (the first known one) to `end` (after the last), gaps bridged in a line and marked.

    Arguments: hours in order, place, start, end [UTC, full hours]. Returns: Prepared. Errors: ValueError without a
    single air temperature between them.
    """
    told = [one for one in hours if one.hour.air_c is not None]
    start = start or (told[0].hour.at if told else None)
    told = [
        one for one in told if start is not None and start <= one.hour.at and (not end or one.hour.at < end)
    ]
    if start is None or not told:
        raise ValueError("no hour of weather has an air temperature")
    end = end or told[-1].hour.at + HOUR
    count = round((end - start) / HOUR)
    where = np.array([round((one.hour.at - start) / HOUR) for one in told])
    missing = np.ones(count, dtype=bool)
    missing[where] = False
    values = {
        name: _line(name, told, where, count) for name in ("air_c", "humidity_frac", "wind_ms", "cloud_frac")
    }
    values["pressure_pa"] = _pressure(told, where, count, values["air_c"], place)
    fall = np.zeros(count)
    fall[where] = [one.hour.precip_mm or 0.0 for one in told]
    values["precip_kgm2"] = np.clip(fall, 0, 500)
    values["sun_wm2"] = _sun(told, where, start, count, values["cloud_frac"], place)
    longwave = np.full(count, np.nan)
    longwave[where] = [math.nan if one.hour.longwave_wm2 is None else one.hour.longwave_wm2 for one in told]
    gaps = _gaps(missing, start)
    bridged = np.zeros(count, dtype=bool)
    for first, past in gaps:
        bridged[round((first - start) / HOUR) : round((past - start) / HOUR)] = True
    lead_h = np.full(count, np.nan)
    lead_h[where] = [
        math.nan if one.observed else max((one.hour.at - one.made_at) / HOUR, 0.0) for one in told
    ]
    runs = [one.made_at for one in told if not one.observed]
    sources = {number: one.source for number, one in zip(where.tolist(), told, strict=True)}
    return Prepared(start, values, longwave, lead_h, bridged, gaps, sources, max(runs) if runs else None)


def _line(name: str, told: Sequence[KnownHour], where: Floats, count: int) -> Floats:
    """One value of every hour, in a line between those that are known; a common one where none is."""
    found = np.array([_value(name, one.hour) for one in told], dtype=float)
    has = ~np.isnan(found)
    if not has.any():
        return np.full(count, ASSUMED[name])
    line = np.interp(np.arange(count), where[has], found[has])
    return np.clip(line, *LIMITS.get(name, (0.0, 1.0)))


def _value(name: str, hour: Hour) -> float:
    value = getattr(hour, name)
    if value is None and name == "humidity_frac":
        value = humidity_frac(hour.air_c, hour.dew_point_c)
    return math.nan if value is None else value


def _pressure(told: Sequence[KnownHour], where: Floats, count: int, air_c: Floats, place: Place) -> Floats:
    """Pressure at the rink [Pa]: a reading at sea level is brought up by the barometric formula (dry air, no lapse)."""
    line = _line("pressure_pa", told, where, count)
    if place.altitude_m is None:
        return line
    up = np.exp(-GRAVITY_MS2 * place.altitude_m / (R_AIR_JKGK * (air_c + ZERO_C_K)))
    at_station = np.zeros(count, dtype=bool)
    at_station[where] = [bool(getattr(one.hour, "pressure_is_station", False)) for one in told]
    return np.clip(np.where(at_station, line, line * up), *LIMITS["pressure_pa"])


def clear_sky_wm2(start: dt.datetime, count: int, place: Place) -> Floats:
    """Mean sun of a clear sky in every hour [W/m²], looked at four times an hour."""
    looks = (np.arange(SUN_LOOKS) + 0.5) / SUN_LOOKS
    unix_s = start.timestamp() + HOUR_S * (np.arange(count)[:, None] + looks)
    zenith = position(unix_s, place.latitude, place.longitude).zenith_deg
    return np.asarray(haurwitz_wm2(np.clip(zenith, 0, 180))).mean(axis=1)


def cloud_passes(cloud_frac: Floats) -> Floats:
    """Share of a clear sky's sun that cloud lets through [0-1]. Source: Kasten & Czeplak 1980."""
    return 1 - CLOUD_DIMS * cloud_frac**CLOUD_POWER


def _sun(
    told: Sequence[KnownHour], where: Floats, start: dt.datetime, count: int, cloud: Floats, place: Place
) -> Floats:
    """Sun as given, else a clear sky's dimmed by cloud."""
    sun = clear_sky_wm2(start, count, place) * cloud_passes(cloud)
    for at, one in zip(where.tolist(), told, strict=True):
        if one.hour.shortwave_wm2 is not None:
            sun[at] = one.hour.shortwave_wm2
    return np.clip(sun, 0, 1400)


def _gaps(missing: np.ndarray[tuple[int, ...], np.dtype[np.bool_]], start: dt.datetime) -> list[Gap]:
    """Stretches of more than three missing hours."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], missing.astype(int), [0]])))
    pairs = zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)
    return [(start + a * HOUR, start + b * HOUR) for a, b in pairs if b - a > BRIDGE_H]
