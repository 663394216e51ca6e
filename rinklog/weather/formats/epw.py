"""EnergyPlus weather files: a typical or real year, hour by hour, in the station's standard time.

Source: EnergyPlus Auxiliary Programs, "EnergyPlus Weather File (EPW) Data Dictionary": field numbers, units, missing
values. Hour 1 ends at 01:00; values are means or sums of that hour, so they begin at hour − 1.
"""

import datetime as dt
from io import BytesIO

from rinklog.weather.formats.reading import BadFile, Format, Row, everything
from rinklog.weather.hours import Flag, Hour, Parsed

HEADER_LINES = 8
# name: (field, factor, offset, first value that means missing)
COLUMNS = {
    "air_c": (6, 1.0, 0.0, 99.9),
    "dew_point_c": (7, 1.0, 0.0, 99.9),
    "humidity_frac": (8, 0.01, 0.0, 999),
    "pressure_pa": (9, 1.0, 0.0, 999_999),
    "longwave_wm2": (12, 1.0, 0.0, 9999),
    "shortwave_wm2": (13, 1.0, 0.0, 9999),
    "wind_from_deg": (20, 1.0, 0.0, 999),
    "wind_ms": (21, 1.0, 0.0, 999),
    "cloud_frac": (22, 0.1, 0.0, 99),
    "snow_m": (30, 0.01, 0.0, 999),
    "precip_mm": (33, 1.0, 0.0, 999),
}


def parse(content: bytes) -> Parsed:
    """Read a whole file. Returns: Parsed in order of time; a typical year keeps the years of its months."""
    try:
        hours, flags = everything(BytesIO(content), FORMAT)
    except BadFile as error:
        return Parsed(flags=[Flag("line 1", "LOCATION", str(error), "unreadable")])
    once = {hour.at: hour for hour in reversed(hours)}
    return Parsed([once[at] for at in sorted(once)], flags)


def begin(head: list[str]) -> Row:
    """Read the header. Errors: BadFile when it names no time zone."""
    try:
        zone = dt.timezone(dt.timedelta(hours=float(head[0].split(",")[8])))
    except (IndexError, ValueError, OverflowError):
        raise BadFile("The first line is no LOCATION with a time zone as its ninth value.") from None

    def read(text: str, where: str, flags: list[Flag]) -> Hour | None:
        try:
            return _hour(text.split(","), zone)
        except (ValueError, IndexError, OverflowError):
            flags.append(Flag(where, "line", text[:60], "not-a-number"))
            return None

    return read


def fits(head: bytes) -> bool:
    """Whether it begins as such a file does."""
    return head.startswith(b"LOCATION,")


def _hour(row: list[str], zone: dt.timezone) -> Hour:
    year, month, day, hour = (int(part) for part in row[:4])
    at = dt.datetime(year, month, day, tzinfo=zone) + dt.timedelta(hours=hour - 1)
    values: dict[str, float | None] = {}
    for name, (place, factor, offset, missing) in COLUMNS.items():
        raw = float(row[place]) if place < len(row) and row[place].strip() else missing
        values[name] = None if raw >= missing else raw * factor + offset
    if values["longwave_wm2"] == 0:
        values["longwave_wm2"] = None
    station = None if values["pressure_pa"] is None else True
    return Hour(at=at.astimezone(dt.UTC), pressure_is_station=station, **values)  # type: ignore[arg-type]


FORMAT = Format("epw", "EPW", fits, HEADER_LINES, begin, in_order=False)
