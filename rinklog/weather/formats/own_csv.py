"""Our CSV: the columns of `simulate --weather`, one row a time, times with their offset from UTC.

A column may be in another unit, which then stands in its name: `air_f`, `wind_mph`, `pressure_hpa`. The pressure is
that at the station.
"""

import csv
import math
from collections.abc import Callable

from rinklog.simulate.csv_file import moment
from rinklog.simulate.weather_file import KNOWN
from rinklog.weather.formats.reading import BadFile, Format, Row
from rinklog.weather.hours import Convert, Flag, Hour
from rinklog.weather.humid import dew_point_c, humidity_frac
from rinklog.weather.units import converter

OURS = (*(name for name in KNOWN if name != "time"), "dew_point_c")
# stem of a column: (name of ours, kind of unit)
STEMS = {
    "air": ("air_c", "temperature"),
    "dew_point": ("dew_point_c", "temperature"),
    "humidity": ("humidity_frac", "fraction"),
    "wind": ("wind_ms", "speed"),
    "gust": ("gust_ms", "speed"),
    "cloud": ("cloud_frac", "fraction"),
    "pressure": ("pressure_pa", "pressure"),
    "precip": ("precip_mm", "rain"),
    "snow": ("snow_m", "length"),
}
# what stands in a name: the unit as `units.py` knows it
SUFFIXES = {
    **{"c": "c", "f": "f", "k": "k", "percent": "percent", "frac": "fraction", "kn": "kn", "mph": "mph"},
    **{"ms": "m/s", "kmh": "km/h", "hpa": "hpa", "pa": "pa", "inhg": "inhg", "mm": "mm", "cm": "cm"},
    **{"in": "inch", "m": "m", "ft": "ft"},
}
MISSING = {"", "na", "nan", "null", "none", "-", "-9999", "-9999.0"}


def column(name: str) -> tuple[str, Convert] | None:
    """Our name of a column and its conversion to SI, or None when it is none of ours."""
    if name in OURS:
        return name, float
    stem, _, suffix = name.rpartition("_")
    ours, kind = STEMS.get(stem, ("", ""))
    convert = converter(kind, SUFFIXES[suffix]) if ours and suffix in SUFFIXES else None
    return (ours, convert) if convert else None


def begin(head: list[str]) -> Row:
    """Read the header. Errors: BadFile naming the column."""
    names = [name.strip().lower() for name in _cells(head[0])] if head else []
    if "time" not in names:
        raise BadFile(f"The first line has no column “time”; allowed columns: {', '.join(KNOWN)}.")
    columns: list[tuple[str, Convert] | None] = []
    for name in names:
        found = None if name == "time" else column(name)
        if name != "time" and found is None:
            raise BadFile(
                f"Column “{name[:40]}” is unknown; allowed: {', '.join(KNOWN)}, dew_point_c, or one of them "
                "in another unit, such as air_f or wind_mph."
            )
        if found and any(other and other[0] == found[0] for other in columns):
            raise BadFile(f"Column “{name[:40]}” gives {found[0]} a second time; allowed: once.")
        columns.append(found)
    return _row(names.index("time"), columns)


def _row(time_at: int, columns: list[tuple[str, Convert] | None]) -> Row:
    def read(text: str, where: str, flags: list[Flag]) -> Hour | None:
        cells = _cells(text)
        if len(cells) != len(columns):
            flags.append(Flag(where, "line", text[:60], "cells"))
            return None
        try:
            at = moment(cells[time_at])
        except ValueError:
            flags.append(Flag(where, "time", cells[time_at][:40], "no-offset"))
            return None
        values: dict[str, float] = {}
        for cell, known in zip(cells, columns, strict=True):
            if known is None or cell.lower() in MISSING:
                continue
            value = _number(cell, known[1])
            if value is None:
                flags.append(Flag(where, known[0], cell[:40], "not-a-number"))
            else:
                values[known[0]] = value
        return _hour(at, values)

    return read


def _hour(at: object, values: dict[str, float]) -> Hour:
    air, dew, damp = (values.get(name) for name in ("air_c", "dew_point_c", "humidity_frac"))
    if damp is None and dew is not None:
        damp = humidity_frac(air, dew)
    elif dew is None and damp is not None:
        dew = dew_point_c(air, damp)
    more = {"dew_point_c": dew, "humidity_frac": damp}
    station = True if "pressure_pa" in values else None
    return Hour(at=at, pressure_is_station=station, **values | more)  # type: ignore[arg-type]


def _cells(text: str) -> list[str]:
    if '"' not in text:
        return [cell.strip() for cell in text.split(",")]
    try:
        return [cell.strip() for cell in next(csv.reader([text], strict=True))]
    except (csv.Error, StopIteration):
        return []


def _number(cell: str, convert: Callable[[float], float]) -> float | None:
    try:
        value = convert(float(cell))
    except (ValueError, OverflowError):
        return None
    return value if math.isfinite(value) else None


def fits(head: bytes) -> bool:
    """Whether the first line is a header with a time."""
    first = head.removeprefix(b"\xef\xbb\xbf").partition(b"\n")[0].lower()
    return b"time" in [cell.strip(b' \r"') for cell in first.split(b",")]


FORMAT = Format("csv", "CSV", fits, 1, begin)
