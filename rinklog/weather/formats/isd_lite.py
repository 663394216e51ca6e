"""NOAA Integrated Surface Database, Lite: fixed-width hours in UTC.

Source: NOAA NCEI, ISD-Lite technical document: year, month, day, hour, air temperature ×10 °C, dew point ×10 °C,
sea-level pressure ×10 hPa, wind direction °, wind speed ×10 m/s, sky condition code, precipitation of the last hour
×10 mm (−1 is a trace), of the last six hours; −9999 is missing.
"""

import datetime as dt
import re
from io import BytesIO

from rinklog.weather.formats.reading import Format, everything
from rinklog.weather.hours import Flag, Hour, Parsed
from rinklog.weather.humid import humidity_frac

MISSING = -9999
TRACE = -1
# Sky condition code → cloud fraction; 9 (obscured) counts as overcast, 10 is partial obscuration: not known.
OKTAS = {code: code / 8 for code in range(9)} | {9: 1.0}


def parse(content: bytes) -> Parsed:
    """Read a whole file. Returns: Parsed, hours in UTC; lines that cannot be read are flagged."""
    return Parsed(*everything(BytesIO(content), FORMAT))


def _row(text: str, where: str, flags: list[Flag]) -> Hour | None:
    try:
        return _hour([int(part) for part in text.split()])
    except (ValueError, IndexError, OverflowError):
        flags.append(Flag(where, "line", text[:60], "not-a-number"))
        return None


def fits(head: bytes) -> bool:
    """Whether the first line is a row of numbers that begins with a date."""
    return re.match(rb"\d{4} +\d{1,2} +\d{1,2} +\d{1,2}( +-?\d+){7,8} *\r?(\n|$)", head) is not None


def _hour(numbers: list[int]) -> Hour:
    year, month, day, hour, air, dew, pressure, direction, wind, sky, rain = numbers[:11]
    air_c, dew_c = _tenths(air), _tenths(dew)
    return Hour(
        at=dt.datetime(year, month, day, hour, tzinfo=dt.UTC),
        air_c=air_c,
        dew_point_c=dew_c,
        humidity_frac=humidity_frac(air_c, dew_c),
        wind_ms=_tenths(wind),
        wind_from_deg=None if direction == MISSING else float(direction),
        cloud_frac=OKTAS.get(sky),
        pressure_pa=None if pressure == MISSING else pressure * 10.0,
        pressure_is_station=None if pressure == MISSING else False,
        precip_mm=0.0 if rain == TRACE else _tenths(rain),
    )


def _tenths(value: int) -> float | None:
    return None if value == MISSING else value / 10


FORMAT = Format("isd-lite", "ISD-Lite", fits, 0, lambda _head: _row, preceding=("precip_mm",))
