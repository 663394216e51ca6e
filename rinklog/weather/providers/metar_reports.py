"""METAR and SPECI reports of one station, raw text, one a line.

Source: WMO Manual on Codes, FM 15 METAR; read by the `metar` library. The altimeter setting (Q or A group) is reduced
to sea level. Sky groups: FEW 1–2 oktas, SCT 3–4, BKN 5–7, OVC 8; the middle of the range is taken. A report has a day
and no month: it is of the month that brings it nearest to when it was asked for.
"""

import datetime as dt
import re
import warnings
from dataclasses import replace

from metar.Metar import Metar, ParserError

from rinklog.weather.hours import Flag, Hour, Parsed, screened
from rinklog.weather.humid import humidity_frac
from rinklog.weather.providers.answer import AnswerError
from rinklog.weather.providers.asking import Ask

SLUG, NAME = "metar", "METAR"
BASE = "https://aviationweather.gov"
CREDIT = "Airport weather reports (METAR), NOAA Aviation Weather Center"
STATION = re.compile(r"[A-Z][A-Z0-9]{3}")
HOUR = dt.timedelta(hours=1)
NEARLY = dt.timedelta(minutes=20)
LONGEST = 1000
_TIME = re.compile(r"\b(\d{2})(\d{2})(\d{2})Z\b")
_REPORT = re.compile(r"^(?:(?:METAR|SPECI)\s+)?(?:COR\s+)?([A-Z][A-Z0-9]{3})\s+(?:COR\s+)?\d{6}Z\b")
OKTAS = {"FEW": 1.5, "SCT": 3.5, "BKN": 6.0, "OVC": 8.0, "VV": 8.0} | dict.fromkeys(
    ("SKC", "CLR", "NSC", "NCD"), 0.0
)


def ask(station: str, hours: int) -> Ask:
    """The raw reports of a station in the last hours."""
    return Ask("/api/data/metar", {"ids": station, "format": "raw", "hours": str(hours)})


def parse(content: bytes, station: str, near: dt.datetime) -> Parsed:
    """Read reports. Arguments: content, the station they must be of, when they were asked for (aware UTC).

    Returns: Parsed, in order of time, everything unreadable flagged. Errors: AnswerError for what holds no report.
    """
    lines = [line.strip(" =\r") for line in content.decode("ascii", errors="replace").splitlines()]
    reports = [(number, line) for number, line in enumerate(lines, start=1) if line]
    if reports and not any(_REPORT.match(line) for _, line in reports):
        raise AnswerError(f"{NAME} sent no report but {reports[0][1][:40]!r}.")
    flags: list[Flag] = []
    rows: list[tuple[str, Hour]] = []
    for number, line in reports:
        if hour := report(line, station, near, f"line {number}", flags):
            rows.append((f"line {number}", hour))
    rows.sort(key=lambda row: row[1].at)
    parsed = screened(rows)
    return Parsed(_rain_begins(parsed.hours), flags + parsed.flags)


def report(line: str, station: str, near: dt.datetime, where: str, flags: list[Flag]) -> Hour | None:
    """One report as an hour; rain stays with the report that says it. None, and a flag, when it cannot be used."""
    found = _REPORT.match(line[:LONGEST])
    if found is None or found[1] != station:
        flags.append(Flag(where, "report", line[:60], "unreadable" if found is None else "other-station"))
        return None
    month = _month(line, near)
    if month is None:
        flags.append(Flag(where, "at", line[:60], "no-time"))
        return None
    read = _read(line[:LONGEST], month, where, flags)
    if read is None or read.time is None:
        return None
    hour = _hour(read, read.time.replace(tzinfo=dt.UTC))
    if hour.air_c is None and hour.wind_ms is None and hour.pressure_pa is None:
        flags.append(Flag(where, "report", line[:60], "empty"))
        return None
    return hour


def _month(line: str, near: dt.datetime) -> tuple[int, int] | None:
    """Year and month in which a report's day lies nearest to a time."""
    found = _TIME.search(line)
    if found is None:
        return None
    day, hour, minute = (int(part) for part in found.groups())
    here = near.replace(day=1)
    best = None
    for first in (here, here - dt.timedelta(days=1), here + dt.timedelta(days=32)):
        try:
            at = dt.datetime(first.year, first.month, day, hour, minute, tzinfo=dt.UTC)
        except ValueError:
            continue
        if best is None or abs(at - near) < abs(best - near):
            best = at
    return None if best is None else (best.year, best.month)


def _read(line: str, month: tuple[int, int], where: str, flags: list[Flag]) -> Metar | None:
    """Parse strictly; what fails is read as far as it goes, and the rest flagged."""
    year, number = month
    try:
        return Metar(line, month=number, year=year)
    except (ParserError, ValueError, AttributeError, TypeError, KeyError, IndexError):
        pass
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            read = Metar(line, month=number, year=year, strict=False)
    except Exception:  # the library stops at some dirty reports with whatever error comes
        flags.append(Flag(where, "report", line[:60], "unreadable"))
        return None
    rest = " ".join(read._unparsed_groups) or line[:60]
    flags.append(Flag(where, "report", rest, "partly-read"))
    return read


def _hour(read: Metar, at: dt.datetime) -> Hour:
    air, dew = _in(read.temp, "C"), _in(read.dewpt, "C")
    pressure = _in(read.press_sea_level, "HPA")
    pressure = _in(read.press, "HPA") if pressure is None else pressure
    wind, gust = _in(read.wind_speed, "MPS"), _in(read.wind_gust, "MPS")
    direction = read.wind_dir.value() if read.wind_dir is not None and wind else None
    return Hour(
        at=at,
        air_c=air,
        dew_point_c=dew,
        humidity_frac=humidity_frac(air, dew),
        wind_ms=wind,
        gust_ms=gust,
        wind_from_deg=direction,
        cloud_frac=_cloud(read),
        pressure_pa=None if pressure is None else pressure * 100,
        pressure_is_station=None if pressure is None else False,
        precip_mm=None if read.precip_1hr is None else read.precip_1hr.value("CM") * 10,
        snow_m=None if read.snowdepth is None else read.snowdepth.value("M"),
    )


def _in(value: object, unit: str) -> float | None:
    return None if value is None else float(value.value(unit))  # type: ignore[attr-defined]


def _cloud(read: Metar) -> float | None:
    layers = [OKTAS[cover] for cover, *_ in read.sky if cover in OKTAS]
    if layers:
        return max(layers) / 8
    return 0.0 if re.search(r"\bCAVOK\b", read.code) else None


def _rain_begins(hours: list[Hour]) -> list[Hour]:
    """Rain is of the hour before its report: move it to the report that begins that hour, where there is one."""
    moved: dict[dt.datetime, float] = {}
    for hour in hours:
        if hour.precip_mm is None:
            continue
        begin = min(hours, key=lambda one: abs(one.at - (hour.at - HOUR)))
        if abs(begin.at - (hour.at - HOUR)) <= NEARLY:
            moved[begin.at] = max(hour.precip_mm, moved.get(begin.at, 0.0))
    return [replace(hour, precip_mm=moved.get(hour.at)) for hour in hours]
