"""The hours as a table: the same numbers as the picture, in words where a picture has colours."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import Any
from zoneinfo import ZoneInfo

from rinklog.archive.cells import text
from rinklog.clock import local_day
from rinklog.weather.hours import VALUE_NAMES, Hour
from rinklog.weather.known import KnownHour
from rinklog.web.weather.cold import FROSTBITE, chill_c, frostbite_class
from rinklog.web.weather.words import SNOW_BELOW_C, wind_from


@dataclass(frozen=True)
class Row:
    """One hour of the table; values stay SI, the template's filters show them."""

    at: dt.datetime
    hour: Hour
    observed: bool
    wind_from: str
    chill_c: float | None
    frostbite: str  # the class; empty when low or unknown
    danger: Any
    snows: bool
    cloud_percent: int | None


def row_of(one: KnownHour) -> Row:
    """The row of an hour."""
    hour, bite = one.hour, frostbite_class(one.hour)
    return Row(
        at=hour.at,
        hour=hour,
        observed=one.observed,
        wind_from=wind_from(hour.wind_from_deg),
        chill_c=chill_c(hour),
        frostbite="" if bite == "low" else bite,
        danger=FROSTBITE.get(bite, ""),
        snows=hour.air_c is not None and hour.air_c < SNOW_BELOW_C,
        cloud_percent=None if hour.cloud_frac is None else round(100 * hour.cloud_frac),
    )


def by_day(hours: Iterable[KnownHour], zone: ZoneInfo) -> list[tuple[dt.date, list[Row]]]:
    """The rows of each day of the rink's own calendar."""
    rows = [row_of(one) for one in hours]
    return [(day, list(some)) for day, some in groupby(rows, key=lambda row: local_day(row.at, zone))]


def csv_rows(hours: Iterable[KnownHour]) -> Iterable[list[object]]:
    """The hours as rows of a CSV file: SI, the unit in each column's name, times in UTC."""
    yield ["time", "observed", "source", "made_at", *VALUE_NAMES]
    for one in hours:
        values = [getattr(one.hour, name) for name in VALUE_NAMES]
        said = [one.hour.at.isoformat(), int(one.observed), text(one.source), one.made_at.isoformat()]
        yield [*said, *("" if value is None else f"{value:.6g}" for value in values)]
