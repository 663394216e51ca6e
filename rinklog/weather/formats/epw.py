"""EnergyPlus weather files: a typical or real year, hour by hour, in the station's standard time.

Source: EnergyPlus Auxiliary Programs, "EnergyPlus Weather File (EPW) Data Dictionary": field numbers, units, missing
values. Hour 1 ends at 01:00; values are means or sums of that hour, so they begin at hour − 1.
"""

import csv
import datetime as dt

from rinklog.weather.hours import Flag, Hour, Parsed, screened

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
    """Read a file. Returns: Parsed; a typical year keeps the years of its months, so they need not be in order."""
    text = content.decode("utf-8", errors="replace")
    try:
        rows = list(csv.reader(text.splitlines()))
        zone = dt.timezone(dt.timedelta(hours=float(rows[0][8])))
    except (IndexError, ValueError, OverflowError, csv.Error):
        return Parsed(flags=[Flag("line 1", "LOCATION", text[:60], "not-a-number")])
    hours: list[tuple[str, Hour]] = []
    faults: list[Flag] = []
    for number, row in enumerate(rows[HEADER_LINES:], start=HEADER_LINES + 1):
        try:
            hours.append((f"line {number}", _hour(row, zone)))
        except (ValueError, IndexError, OverflowError):
            faults.append(Flag(f"line {number}", "line", ",".join(row)[:60], "not-a-number"))
    # The months of a typical year come from different years: put them in order of time before screening.
    hours.sort(key=lambda pair: pair[1].at)
    parsed = screened(hours)
    return Parsed(parsed.hours, faults + parsed.flags)


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
