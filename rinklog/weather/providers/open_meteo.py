"""Open-Meteo forecast JSON: parallel arrays by hour.

Source: Open-Meteo's API documentation: `hourly.time` is local wall time at `utc_offset_seconds` (or unix time), the
units stand in `hourly_units`; precipitation and radiation are of the preceding hour.
"""

import datetime as dt
from typing import Any

from rinklog.weather.hours import Flag, Hour, Parsed, screened, shift_back
from rinklog.weather.providers.answer import AnswerError, Forecast, json_object, mapping, moment, number
from rinklog.weather.providers.asking import Ask, Place, Provider
from rinklog.weather.units import converter

NAME = "Open-Meteo"
QUANTITIES = {
    "air_c": ("temperature_2m", "temperature"),
    "dew_point_c": ("dew_point_2m", "temperature"),
    "humidity_frac": ("relative_humidity_2m", "fraction"),
    "wind_ms": ("wind_speed_10m", "speed"),
    "gust_ms": ("wind_gusts_10m", "speed"),
    "wind_from_deg": ("wind_direction_10m", "angle"),
    "cloud_frac": ("cloud_cover", "fraction"),
    "shortwave_wm2": ("shortwave_radiation", "flux"),
    "pressure_pa": ("surface_pressure", "pressure"),
    "precip_mm": ("precipitation", "rain"),
    "snow_m": ("snow_depth", "length"),
}
DAY_S = 86400
EPOCH = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)
LATEST_S = 1e10  # the year 2286; `screened` draws the finer line
OF_THE_PRECEDING_HOUR = ("precip_mm", "shortwave_wm2")


def parse(content: bytes) -> Forecast:
    """Read an answer. Returns: Forecast. Errors: AnswerError when it is no forecast."""
    answer = json_object(content, NAME)
    if answer.get("error"):
        raise AnswerError(f"{NAME} refused: {str(answer.get('reason'))[:200]}")
    hourly = answer.get("hourly")
    if not isinstance(hourly, dict) or not isinstance(hourly.get("time"), list):
        raise AnswerError(f"{NAME} sent an answer without hours.")
    flags: list[Flag] = []
    columns = _columns(hourly, mapping(answer.get("hourly_units")), flags)
    zone = _zone(answer.get("utc_offset_seconds"))
    rows: list[tuple[str, Hour]] = []
    for place, text in enumerate(hourly["time"]):
        at = _time(text, zone)
        if at is None:
            flags.append(Flag(f"hour {place + 1}", "time", str(text), "no-time"))
            continue
        values = {name: column[place] for name, column in columns.items() if place < len(column)}
        station = None if values.get("pressure_pa") is None else True
        rows.append((at.isoformat(), Hour(at=at, pressure_is_station=station, **values)))  # type: ignore[arg-type]
    parsed = screened(rows)
    hours = shift_back(parsed.hours, OF_THE_PRECEDING_HOUR)
    return Forecast(Parsed(hours, flags + parsed.flags), None)


def _columns(
    hourly: dict[str, Any], units: dict[str, str], flags: list[Flag]
) -> dict[str, list[float | None]]:
    columns: dict[str, list[float | None]] = {}
    for name, (theirs, kind) in QUANTITIES.items():
        if not isinstance(hourly.get(theirs), list):
            continue
        convert = converter(kind, str(units.get(theirs, "")))
        if convert is None:
            flags.append(Flag("hourly_units", theirs, str(units.get(theirs)), "unknown-unit"))
            continue
        columns[name] = [None if (value := number(raw)) is None else convert(value) for raw in hourly[theirs]]
    return columns


def _zone(offset_s: Any) -> dt.timezone:
    """The offset of the answer's times; without one they are UTC. Errors: AnswerError for a day or more."""
    seconds = number(offset_s) or 0.0
    if abs(seconds) >= DAY_S:
        raise AnswerError(f"{NAME} sent an offset from UTC of {seconds:g} s; allowed: less than a day.")
    return dt.timezone(dt.timedelta(seconds=seconds))


def _time(text: Any, zone: dt.timezone) -> dt.datetime | None:
    if isinstance(text, int) and not isinstance(text, bool):
        return EPOCH + dt.timedelta(seconds=text) if abs(text) < LATEST_S else None
    try:
        at = dt.datetime.fromisoformat(str(text))
    except ValueError:
        return None
    return moment((at if at.tzinfo else at.replace(tzinfo=zone)).isoformat())


def ask(place: Place) -> Ask:
    """Ten days by the hour, in UTC; the altitude where it is known."""
    altitude = {} if place.altitude_m is None else {"elevation": f"{place.altitude_m:.0f}"}
    return Ask(
        "/v1/forecast",
        {
            "latitude": place.north,
            "longitude": place.east,
            "hourly": ",".join(theirs for theirs, _ in QUANTITIES.values()),
            "wind_speed_unit": "ms",
            "timezone": "UTC",
            "forecast_days": "10",
            **altitude,
        },
    )


PROVIDER = Provider(
    slug="open-meteo",
    name=NAME,
    base="https://api.open-meteo.com",
    credit="Weather data by Open-Meteo.com, CC BY 4.0",
    parse=parse,
    ask=ask,
    needs_contact=False,
)
