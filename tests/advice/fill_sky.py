"""Invented skies for the first fill."""

import datetime as dt
from collections.abc import Iterable
from zoneinfo import ZoneInfo

from rinklog.advice.fill.sky import Day, Sky

OSLO = ZoneInfo("Europe/Oslo")
NOW = dt.datetime(2026, 12, 1, 11, tzinfo=dt.UTC)  # noon in Oslo (UTC+1)
HOUR = dt.timedelta(hours=1)


def hours(count: int, start: dt.datetime = NOW, **values: float) -> list[Sky]:
    """So many hours alike: −8 °C, a breath of wind and nothing falling, or as told."""
    usual = {"air_c": -8.0, "wind_ms": 2.0, "gust_ms": 3.0, "precip_mm": 0.0} | values
    return [Sky(start + n * HOUR, **usual) for n in range(count)]  # type: ignore[arg-type]


def days(lows: Iterable[float], highs: Iterable[float] | None = None, **more: float) -> list[Day]:
    """Days in a row from 1 December with these lows, and highs a degree above where none are given."""
    lows = list(lows)
    given = list(highs) if highs is not None else [low + 1 for low in lows]
    first = dt.date(2026, 12, 1)
    calm = {"blows_ms": 3.0, "precip_mm": 0.0} | more
    return [
        Day(first + dt.timedelta(days=n), low, high, hours=24, **calm)  # type: ignore[arg-type]
        for n, (low, high) in enumerate(zip(lows, given, strict=True))
    ]
