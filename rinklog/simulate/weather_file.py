"""The weather file: checked row by row, gaps found and bridged, nothing guessed beyond three hours."""

from __future__ import annotations

import math
from array import array
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

from rinklog.calculators.reading import shown
from rinklog.physics.column.state import Floats
from rinklog.physics.validity import span
from rinklog.simulate.csv_file import Complaints, FileError, header, moment, rows

MOST_ROWS = 300_000
"""A season of minutes; a longer file is refused rather than half read."""
BRIDGE_S = 3 * 3600.0
HOUR_S = 3600.0
RANGES = {
    "air_c": (-60.0, 50.0, "°C"),
    "humidity_frac": (0.0, 1.0, ""),
    "wind_ms": (0.0, 60.0, "m/s"),
    "gust_ms": (0.0, 100.0, "m/s"),
    "wind_from_deg": (0.0, 360.0, "°"),
    "cloud_frac": (0.0, 1.0, ""),
    "shortwave_wm2": (0.0, 1500.0, "W/m²"),
    "longwave_wm2": (40.0, 700.0, "W/m²"),
    "pressure_pa": (50_000.0, 110_000.0, "Pa"),
    "precip_mm": (0.0, 300.0, "mm"),
    "snow_m": (0.0, 10.0, "m"),
}
KNOWN = {"time": ""} | {name: unit for name, (_, _, unit) in RANGES.items()}
UNUSED = ("gust_ms", "wind_from_deg")


@dataclass(frozen=True)
class Gap:
    """A stretch without a value: the column (or `time` for whole rows), its first missing moment, its length."""

    column: str
    first_missing: str
    hours: float

    def sentence(self) -> str:
        """One line for a person."""
        what = "rows are" if self.column == "time" else f"{self.column} is"
        return f"{what} missing from {self.first_missing} for {self.hours:g} h"


@dataclass(frozen=True)
class WeatherRows:
    """Rows ready to march: some lie in gaps and have no output of their own.

    unix_s start of each marched step, hold_s its length, values by column, owner the row of the file that each
    step belongs to, times the file's own texts.
    """

    times: list[str]
    unix_s: Floats
    hold_s: Floats
    values: dict[str, Floats]
    owner: np.ndarray[tuple[int, ...], np.dtype[np.intp]]
    gaps: list[Gap]


def read_weather(path: Path) -> WeatherRows:
    """Read and check a weather file.

    Arguments: path. Returns: WeatherRows. Errors: FileError with line numbers; a gap of over 3 hours.
    """
    times, columns = _read(path)
    unix_s = np.array(columns.pop("time"))
    values = {name: np.array(column) for name, column in columns.items()}
    usual_s = _usual_step_s(unix_s)
    gaps = _row_gaps(times, unix_s, usual_s)
    for name, column in values.items():
        gaps += _fill_blanks(name, column, times, unix_s, usual_s)
    if long := [gap for gap in gaps if gap.hours * HOUR_S > BRIDGE_S + 1]:
        permitted = "permitted: gaps of at most 3 hours"
        raise FileError("\n".join(f"{path.name}: {gap.sentence()}; {permitted}" for gap in long[:10]))
    return _bridge(times, unix_s, values, usual_s, gaps)


def _read(path: Path) -> tuple[list[str], dict[str, array[float]]]:
    source = rows(path)
    line, names = next(source)
    header(path, line, names, KNOWN, ("time", "air_c"))
    columns = {name: array("d") for name in names}
    times: list[str] = []
    complaints = Complaints(path)
    last: tuple[datetime, int] | None = None
    for line, cells in source:
        if len(times) >= MOST_ROWS:
            raise FileError(
                f"{path.name} line {line}: more than {MOST_ROWS} rows; permitted: a season at a time"
            )
        if len(cells) != len(names):
            complaints.add(line, f"{len(cells)} cells; permitted: {len(names)}, as in the header")
            continue
        named = dict(zip(names, cells, strict=True))
        last = _take_time(named["time"], line, last, columns["time"], complaints)
        times.append(named.pop("time"))
        for name, text in named.items():
            columns[name].append(_value(name, text, line, complaints))
    complaints.settle()
    if not times:
        raise FileError(f"{path.name} line {line}: a header and no rows; permitted: at least one row")
    return times, columns


def _take_time(
    text: str, line: int, last: tuple[datetime, int] | None, column: array[float], complaints: Complaints
) -> tuple[datetime, int] | None:
    try:
        when = moment(text)
    except ValueError as error:
        complaints.add(line, str(error))
        column.append(math.nan)
        return last
    if last is not None and when <= last[0]:
        fault = f"comes twice, first on line {last[1]}" if when == last[0] else f"is before line {last[1]}"
        complaints.add(line, f"time is {shown(text)}, which {fault}; permitted: times that rise")
    column.append(when.timestamp())
    return when, line


def _value(name: str, text: str, line: int, complaints: Complaints) -> float:
    if not text:
        return math.nan
    low, high, unit = RANGES[name]
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not low <= value <= high:
        complaints.add(line, f"{name} is {shown(text)}; permitted: {span(low, high, unit)}")
    return value


def _usual_step_s(unix_s: Floats) -> float:
    """The commonest step, an hour at most: rows further apart have gaps between them."""
    if len(unix_s) < 2:
        return HOUR_S
    (step, _), *_ = Counter(np.diff(unix_s).tolist()).most_common(1)
    return min(float(step), HOUR_S)


def _row_gaps(times: list[str], unix_s: Floats, usual_s: float) -> list[Gap]:
    steps = np.diff(unix_s)
    return [
        Gap("time", _later(times[at], usual_s), (float(steps[at]) - usual_s) / HOUR_S)
        for at in np.flatnonzero(steps > 1.5 * usual_s).tolist()
    ]


def _later(text: str, seconds: float) -> str:
    return (moment(text) + timedelta(seconds=seconds)).isoformat()


def _fill_blanks(name: str, column: Floats, times: list[str], unix_s: Floats, usual_s: float) -> list[Gap]:
    """Bridge blank cells in place, in a line between neighbours; precipitation is taken as none."""
    blank = np.isnan(column)
    gaps = [
        Gap(name, moment(times[a]).isoformat(), _stretch_s(unix_s, a, b, usual_s) / HOUR_S)
        for a, b in _runs(blank)
    ]
    if blank.all():
        return [Gap(name, gaps[0].first_missing, max(gaps[0].hours, math.inf))]
    if blank.any():
        filled = np.interp(unix_s, unix_s[~blank], column[~blank])
        column[blank] = 0.0 if name == "precip_mm" else filled[blank]
    return gaps


def _runs(blank: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> Iterator[tuple[int, int]]:
    """First and past-last index of every run of blanks."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], blank.astype(int), [0]])))
    yield from zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)


def _stretch_s(unix_s: Floats, first: int, past: int, usual_s: float) -> float:
    end = unix_s[past] if past < len(unix_s) else unix_s[-1] + usual_s
    return float(end - unix_s[first])


def _bridge(
    times: list[str], unix_s: Floats, values: dict[str, Floats], usual_s: float, gaps: list[Gap]
) -> WeatherRows:
    """Put steps into the gaps between rows, their weather on a line between the rows at either end."""
    steps = np.append(np.diff(unix_s), min(usual_s, HOUR_S))
    pieces = np.where(steps > 1.5 * usual_s, np.ceil(steps / usual_s - 1e-6), 1).astype(np.intp)
    owner = np.repeat(np.arange(len(times)), pieces)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    start = unix_s[owner] + place * usual_s
    hold = np.where(place < pieces[owner] - 1, usual_s, unix_s[owner] + steps[owner] - start)
    filled = {
        name: column[owner]
        if (place == 0).all()
        else np.where(place == 0, column[owner], np.interp(start, unix_s, column))
        for name, column in values.items()
    }
    if "precip_mm" in filled:
        filled["precip_mm"] = np.where(place == 0, filled["precip_mm"], 0.0)
    return WeatherRows(times, start, hold, filled, owner, gaps)
