"""NOAA Integrated Surface Database, Lite: fixed-width hours in UTC.

Source: NOAA NCEI, ISD-Lite technical document: year, month, day, hour, air temperature ×10 °C, dew point ×10 °C,
sea-level pressure ×10 hPa, wind direction °, wind speed ×10 m/s, sky condition code, precipitation of the last hour
×10 mm (−1 is a trace), of the last six hours; −9999 is missing.
"""

import datetime as dt

from rinklog.weather.hours import Flag, Hour, Parsed, screened, shift_back
from rinklog.weather.humid import humidity_frac

MISSING = -9999
TRACE = -1
# Sky condition code → cloud fraction; 9 (obscured) counts as overcast, 10 is partial obscuration: not known.
OKTAS = {code: code / 8 for code in range(9)} | {9: 1.0}


def parse(content: bytes) -> Parsed:
    """Read a file. Arguments: bytes. Returns: Parsed, hours in UTC; lines that cannot be read are flagged."""
    rows: list[tuple[str, Hour]] = []
    faults: list[Flag] = []
    for number, line in enumerate(content.decode("ascii", errors="replace").splitlines(), start=1):
        if not line.strip():
            continue
        where = f"line {number}"
        try:
            rows.append((where, _hour([int(part) for part in line.split()])))
        except (ValueError, IndexError, OverflowError):
            faults.append(Flag(where, "line", line[:60], "not-a-number"))
    parsed = screened(rows)
    return Parsed(shift_back(parsed.hours, ("precip_mm",)), faults + parsed.flags)


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
