"""MET Norway Locationforecast 2.0, compact or complete.

Source: MET Norway's documentation of Locationforecast 2.0: `timeseries` of instants, each with what falls in the next
1 or 6 hours; the units stand in `meta.units`. The later part of the series has steps of six hours.
"""

import datetime as dt
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
from rinklog.weather.providers.asking import Ask, Place, Provider
from rinklog.weather.units import converter

NAME = "MET Norway"
# name of ours: (name of theirs, kind of unit)
INSTANT = {
    "air_c": ("air_temperature", "temperature"),
    "dew_point_c": ("dew_point_temperature", "temperature"),
    "humidity_frac": ("relative_humidity", "fraction"),
    "wind_ms": ("wind_speed", "speed"),
    "gust_ms": ("wind_speed_of_gust", "speed"),
    "wind_from_deg": ("wind_from_direction", "angle"),
    "cloud_frac": ("cloud_area_fraction", "fraction"),
    "pressure_pa": ("air_pressure_at_sea_level", "pressure"),
}
RAIN = "precipitation_amount"


def parse(content: bytes) -> Forecast:
    """Read an answer. Returns: Forecast. Errors: AnswerError when it is no forecast."""
    answer = json_object(content, NAME)
    properties = mapping(answer.get("properties"))
    series, meta = mappings(properties.get("timeseries")), mapping(properties.get("meta"))
    if not series:
        raise AnswerError(f"{NAME} sent an answer without a timeseries.")
    flags: list[Flag] = []
    units = mapping(meta.get("units"))
    rows = [row for item in series if (row := _row(item, units, flags))]
    parsed = screened((row.at.isoformat(), row) for row in rows)
    return Forecast(Parsed(parsed.hours, flags + parsed.flags), moment(meta.get("updated_at")))


def _row(item: dict[str, Any], units: dict[str, str], flags: list[Flag]) -> Hour | None:
    at = moment(item.get("time"))
    if at is None:
        flags.append(Flag(str(item.get("time")), "time", str(item.get("time")), "no-time"))
        return None
    data = mapping(item.get("data"))
    details = mapping(mapping(data.get("instant")).get("details"))
    values = {
        name: _value(details, theirs, kind, units, at, flags) for name, (theirs, kind) in INSTANT.items()
    }
    hours = 1 if "next_1_hours" in data else 6
    ahead = mapping(mapping(data.get(f"next_{hours}_hours")).get("details"))
    rain = _value(ahead, RAIN, "rain", units, at, flags)
    station = None if values["pressure_pa"] is None else False
    return Hour(at=at, precip_mm=rain, step_s=hours * 3600, pressure_is_station=station, **values)  # type: ignore[arg-type]


def _value(
    details: dict[str, Any], theirs: str, kind: str, units: dict[str, str], at: dt.datetime, flags: list[Flag]
) -> float | None:
    value = number(details.get(theirs))
    if value is None:
        return None
    convert = converter(kind, str(units.get(theirs, "")))
    if convert is None:
        flags.append(Flag(at.isoformat(), theirs, str(units.get(theirs)), "unknown-unit"))
        return None
    return convert(value)


def ask(place: Place) -> Ask:
    """The complete forecast of a position; the altitude is asked for where it is known, in whole metres."""
    altitude = {} if place.altitude_m is None else {"altitude": f"{place.altitude_m:.0f}"}
    return Ask(
        "/weatherapi/locationforecast/2.0/complete", {"lat": place.north, "lon": place.east, **altitude}
    )


PROVIDER = Provider(
    slug="met-norway",
    name=NAME,
    base="https://api.met.no",
    credit="Weather forecast from MET Norway, CC BY 4.0",
    parse=parse,
    ask=ask,
)
