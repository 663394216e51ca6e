"""US National Weather Service, gridpoint forecast: each quantity is a series of ISO-8601 intervals.

Source: api.weather.gov documentation, gridpoint forecasts: `validTime` is start/duration, `uom` the unit; amounts are
totals over their interval, other values hold through it.
"""

import datetime as dt
import re
from collections.abc import Iterator
from typing import Any

from rinklog.weather.hours import Flag, Hour, Parsed, screened
from rinklog.weather.providers.answer import (
    AnswerError,
    Forecast,
    json_object,
    mapping,
    mappings,
    moment,
    number,
)
from rinklog.weather.providers.asking import Ask, Place, Provider, path_below
from rinklog.weather.units import converter

NAME = "US National Weather Service"
HOUR = dt.timedelta(hours=1)
# name of ours: (name of theirs, kind of unit, is an amount over its interval)
QUANTITIES = {
    "air_c": ("temperature", "temperature", False),
    "dew_point_c": ("dewpoint", "temperature", False),
    "humidity_frac": ("relativeHumidity", "fraction", False),
    "wind_ms": ("windSpeed", "speed", False),
    "gust_ms": ("windGust", "speed", False),
    "wind_from_deg": ("windDirection", "angle", False),
    "cloud_frac": ("skyCover", "fraction", False),
    "precip_mm": ("quantitativePrecipitation", "rain", True),
}
_DURATION = re.compile(r"P(?:(\d{1,4})D)?(?:T(?:(\d{1,4})H)?(?:(\d{1,4})M)?)?")
LONGEST = dt.timedelta(days=14)


def parse(content: bytes) -> Forecast:
    """Read an answer. Returns: Forecast in whole hours. Errors: AnswerError when it is no forecast."""
    properties = mapping(json_object(content, NAME).get("properties"))
    if "temperature" not in properties:
        raise AnswerError(f"{NAME} sent an answer without temperatures.")
    flags: list[Flag] = []
    table: dict[dt.datetime, dict[str, float]] = {}
    for name, (theirs, kind, amount) in QUANTITIES.items():
        for at, value in _series(mapping(properties.get(theirs)), theirs, kind, amount, flags):
            table.setdefault(at, {})[name] = value
    rows = [(at.isoformat(), Hour(at=at, **values)) for at, values in sorted(table.items())]  # type: ignore[arg-type]
    parsed = screened(rows)
    return Forecast(Parsed(parsed.hours, flags + parsed.flags), moment(properties.get("updateTime")))


def interval(text: str) -> tuple[dt.datetime, dt.timedelta] | None:
    """An ISO-8601 start/duration as (start in UTC, length), or None when it is not one."""
    start, _, length = str(text).partition("/")
    at, found = moment(start), _DURATION.fullmatch(length)
    if at is None or found is None:
        return None
    days, hours, minutes = (int(part or 0) for part in found.groups())
    span = dt.timedelta(days=days, hours=hours, minutes=minutes)
    return (at, span) if dt.timedelta(0) < span <= LONGEST else None


def _series(
    series: dict[str, Any], theirs: str, kind: str, amount: bool, flags: list[Flag]
) -> Iterator[tuple[dt.datetime, float]]:
    convert = converter(kind, str(series.get("uom", "")))
    if convert is None:
        if series:
            flags.append(Flag("uom", theirs, str(series.get("uom")), "unknown-unit"))
        return
    for item in mappings(series.get("values")):
        span, value = interval(item.get("validTime", "")), number(item.get("value"))
        if span is None:
            flags.append(Flag(str(item.get("validTime")), theirs, str(item.get("validTime")), "no-time"))
        elif value is not None:
            start, length = span
            hours = max(1, round(length / HOUR))
            for step in range(hours):
                yield start + step * HOUR, convert(value) / (hours if amount else 1)


def find(place: Place) -> Ask:
    """The first question: which grid cell is a position in?"""
    return Ask(f"/points/{place.north},{place.east}")


def found(content: bytes) -> Ask:
    """The address of the cell's forecast. Errors: AnswerError when the answer holds none."""
    properties = mapping(json_object(content, NAME).get("properties"))
    return path_below(properties.get("forecastGridData"), "/gridpoints/", NAME)


PROVIDER = Provider(
    slug="us-nws",
    name=NAME,
    base="https://api.weather.gov",
    credit="Forecast of the US National Weather Service",
    parse=parse,
    ask=find,
    find=find,
    found=found,
)
