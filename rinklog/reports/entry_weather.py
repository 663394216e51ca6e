"""The weather in which work was done: entry and hour are joined when they are read, above both.

Nothing is stored, so a reading that comes late, or a station's file brought in a month later, corrects every entry.
"""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from uuid import UUID

from rinklog.rink.models import Rink
from rinklog.weather.known import HOUR, KnownHour, Span, floor
from rinklog.weather.queries import known_spans
from rinklog.work.models import Entry

LONGEST = dt.timedelta(days=3)
"""A cover may lie for a week; what is said of its weather is that of its first days."""

SAID = {"wind_ms", "precip_mm", "cloud_frac"}
"""What an entry's line says beside the air."""


@dataclass(frozen=True)
class EntryWeather:
    """The weather of an entry's hours, SI. Lows and highs are over those hours; None is not known."""

    hours: int
    air_low_c: float | None
    air_high_c: float | None
    wind_ms: float | None  # mean
    gust_ms: float | None  # strongest
    wind_from_deg: float | None  # of the first hour that has one
    precip_mm: float | None  # sum
    cloud_frac: float | None  # mean
    observed: bool  # the air of every hour was
    guessed: bool  # some of what is said here is only foretold
    sources: tuple[str, ...]
    made_at: dt.datetime  # when the oldest of it was recorded or foretold


def weather_of(rink: Rink, entries: Iterable[Entry]) -> dict[UUID, EntryWeather]:
    """The weather of each entry's hours, by the entry's id; an entry without any known hour is left out.

    Two queries, however many entries there are.
    """
    spans = {entry.id: span_of(entry) for entry in entries}
    known = {one.hour.at: one for one in known_spans(rink, spans.values())}
    found = {}
    for id, (start, end) in spans.items():
        count = -((floor(start) - end) // HOUR)
        hours = [known[at] for n in range(count) if (at := floor(start) + n * HOUR) in known]
        if hours:
            found[id] = summed(hours)
    return found


def span_of(entry: Entry) -> Span:
    """From when work began until it ended; an entry without an end is of the hour it began in."""
    start = entry.started_at
    end = entry.ended_at or start
    return start, min(max(end, start + dt.timedelta(seconds=1)), start + LONGEST)


def summed(hours: Sequence[KnownHour]) -> EntryWeather:
    """Some hours as one line."""
    air, wind, gust, rain, cloud = (
        [value for one in hours if (value := getattr(one.hour, name)) is not None]
        for name in ("air_c", "wind_ms", "gust_ms", "precip_mm", "cloud_frac")
    )
    directions = (one.hour.wind_from_deg for one in hours)
    return EntryWeather(
        hours=len(hours),
        air_low_c=min(air, default=None),
        air_high_c=max(air, default=None),
        wind_ms=sum(wind) / len(wind) if wind else None,
        gust_ms=max(gust, default=None),
        wind_from_deg=next((degrees for degrees in directions if degrees is not None), None),
        precip_mm=sum(rain) if rain else None,
        cloud_frac=sum(cloud) / len(cloud) if cloud else None,
        observed=all(one.observed for one in hours),
        guessed=any(not one.observed or SAID & set(one.filled) for one in hours),
        sources=tuple(dict.fromkeys(one.source for one in hours)),
        made_at=min(one.made_at for one in hours),
    )
