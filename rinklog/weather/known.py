"""The best hour of several: pure, so that every rule about what wins stands in one place and can be tried without rows.

Observed beats foretold, group by group: where a person read only the air, the wind may still come from a station or
from the forecast, and the hour says so. Wind, gust and direction stay together, and so do humidity and dew point.
"""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from rinklog.weather.hours import Hour
from rinklog.weather.humid import dew_point_c

HOUR = dt.timedelta(hours=1)
A_PERSON = "a person"
Span = tuple[dt.datetime, dt.datetime]
"""A stretch of time; the end does not belong to it."""
GROUPS: tuple[tuple[str, ...], ...] = (
    ("air_c",),
    ("humidity_frac", "dew_point_c"),
    ("wind_ms", "gust_ms", "wind_from_deg"),
    ("cloud_frac",),
    ("shortwave_wm2",),
    ("longwave_wm2",),
    ("pressure_pa", "pressure_is_station"),
    ("precip_mm",),
    ("snow_m",),
)


@dataclass(frozen=True)
class KnownHour:
    """One hour as it is known: `observed` means its air temperature was; `filled` names what the forecast added."""

    hour: Hour
    observed: bool
    source: str
    made_at: dt.datetime
    filled: tuple[str, ...] = ()
    interpolated: bool = False


def on_the_hour(at: dt.datetime) -> dt.datetime:
    """The full hour nearest to a time: a report of 14:51 speaks for 15:00."""
    return floor(at + HOUR / 2)


def floor(at: dt.datetime) -> dt.datetime:
    """The full hour at or before a time, in UTC."""
    return at.astimezone(dt.UTC).replace(minute=0, second=0, microsecond=0)


def disjoint(spans: Iterable[Span]) -> list[Span]:
    """Stretches from full hours, in order, those that touch made one; empty ones are left out."""
    found: list[Span] = []
    for start, end in sorted((floor(start), end) for start, end in spans if floor(start) < end):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return found


def holds(spans: list[Span], at: dt.datetime) -> bool:
    """Whether a time lies in one of some stretches."""
    return any(start <= at < end for start, end in spans)


def merged(candidates: Sequence[KnownHour]) -> KnownHour:
    """The best of what is known of one hour; best first. Missing groups are taken from the next that has them."""
    best = candidates[0]
    if len(candidates) == 1:
        return best
    values: dict[str, object] = {}
    sources, filled = [best.source], []
    for group in GROUPS:
        if any(getattr(best.hour, name) is not None for name in group):
            continue
        giver = next((c for c in candidates[1:] if getattr(c.hour, group[0]) is not None), None)
        if giver is None:
            continue
        values |= {name: getattr(giver.hour, name) for name in group}
        if giver.source not in sources:
            sources.append(giver.source)
        if not giver.observed:
            filled += [name for name in group if getattr(giver.hour, name) is not None]
    hour = _dewed(replace(best.hour, **values), best.hour)  # type: ignore[arg-type]
    air = "air_c" not in filled and hour.air_c is not None
    return replace(
        best, hour=hour, observed=best.observed and air, source=_named(sources), filled=tuple(filled)
    )


def _named(sources: list[str]) -> str:
    """One name, or the one that leads and those that add to it; short enough to be shown."""
    return sources[0] if len(sources) == 1 else f"{sources[0]}, the rest from {', '.join(sources[1:])}"


def _dewed(hour: Hour, best: Hour) -> Hour:
    """Air and humidity of two sources belong to another dew point than either has: it follows from them."""
    apart = (best.air_c is None) != (best.humidity_frac is None and best.dew_point_c is None)
    if not apart or hour.air_c is None:
        return hour
    return replace(hour, dew_point_c=dew_point_c(hour.air_c, hour.humidity_frac))


def spread(step: Hour, after: Hour | None) -> Iterable[Hour]:
    """A step of several hours as hours: values on a line to the next step, a sum in equal parts, means as they are."""
    count = max(1, step.step_s // 3600)
    for number in range(count):
        at, way = step.at + number * HOUR, number / count
        rain = None if step.precip_mm is None else step.precip_mm / count
        if after is None or number == 0:
            yield replace(step, at=at, precip_mm=rain, step_s=3600)
        else:
            line = {name: _between(name, step, after, way) for name in ON_A_LINE}
            yield replace(step, at=at, precip_mm=rain, step_s=3600, **line)  # type: ignore[arg-type]


ON_A_LINE = (
    *("air_c", "dew_point_c", "humidity_frac", "wind_ms", "gust_ms", "cloud_frac", "pressure_pa", "snow_m"),
)


def _between(name: str, step: Hour, after: Hour, way: float) -> float | None:
    first, last = getattr(step, name), getattr(after, name)
    if first is None or last is None:
        return first
    return float(first + (last - first) * way)
