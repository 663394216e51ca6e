"""The weather as advice wants it: hours for the rules, and members of the forecast for the search."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

import numpy as np

from rinklog.advice.situation import HOUR, HourAhead
from rinklog.ice.forcing import Place, Prepared, prepare
from rinklog.physics.column import Weather
from rinklog.physics.column.forcing import steps_of
from rinklog.physics.column.state import Floats
from rinklog.physics.windows import ensemble
from rinklog.rink.models import Rink
from rinklog.weather.known import KnownHour, floor
from rinklog.weather.queries import known_hours

PAST = dt.timedelta(hours=48)
AHEAD = dt.timedelta(hours=100)  # three days of starts, and a night for the last of them
LEAST_HOURS = 6  # a shorter outlook says nothing about a coat


@dataclass(frozen=True)
class Sky:
    """Hours past and to come for the rules; what lies ahead for the engine, from `first_at`, up to the first gap."""

    hours: tuple[HourAhead, ...]
    first_at: dt.datetime
    ahead: Weather | None  # without members; None when too little is known
    count: int
    lead_h: float  # how old the forecast is at first_at
    source: str
    forecast_made_at: dt.datetime | None
    observed_at: dt.datetime | None


def sky_of(rink: Rink, now: dt.datetime, known_at: dt.datetime | None = None) -> Sky:
    """What is known of the weather around `now`: two questions."""
    known = [
        one
        for one in known_hours(rink, now - PAST, now + AHEAD, known_at=known_at)
        if one.hour.air_c is not None
    ]
    first = floor(now)
    coming = [one for one in known if one.hour.at >= first]
    prepared = _prepared(rink, coming, first)
    count = _unbroken(prepared) if prepared else 0
    runs = [one.made_at for one in coming if not one.observed]
    made = max(runs, default=None)
    seen = [one.hour.at for one in known if one.observed and one.hour.at <= now]
    return Sky(
        hours=_hours(known, prepared, first),
        first_at=first,
        ahead=steps_of(prepared.plain(), 0, count) if prepared and count >= LEAST_HOURS else None,
        count=count,
        lead_h=max(0.0, (first - made) / HOUR) if made else 0.0,
        source=coming[-1].source if coming else (known[-1].source if known else ""),
        forecast_made_at=made,
        observed_at=max(seen, default=None),
    )


def members(sky: Sky, count: int, seed: int, exchange: Floats, sunlight: Floats) -> Weather:
    """Members of the forecast, each with its own exchange (on the wind) and share of sunlight (on the sun).

    Arguments: sky with weather ahead, count of members, seed, exchange and sunlight (count,). Returns: Weather (hours,
    count). The errors are those of physics.windows.ForecastError, older by the forecast's age.
    """
    assert sky.ahead is not None
    plain = replace(sky.ahead, longwave_wm2=None)  # the sky of each member follows from its own cloud
    told = ensemble(plain, count, seed, lead_h=sky.lead_h)
    sun = np.asarray(plain.sun_wm2, dtype=float)
    return replace(
        told,
        wind_ms=np.clip(np.asarray(told.wind_ms) * exchange, 0, 60),
        sun_wm2=np.clip(np.broadcast_to(sun[:, None], (sun.size, count)) * sunlight, 0, 1400),
    )


def _prepared(rink: Rink, coming: list[KnownHour], first: dt.datetime) -> Prepared | None:
    if not coming or rink.latitude is None or rink.longitude is None:
        return None
    return prepare(coming, Place(rink.latitude, rink.longitude), first)


def _unbroken(prepared: Prepared) -> int:
    """Hours up to the first gap."""
    return int(np.argmax(prepared.bridged)) if prepared.bridged.any() else prepared.hours


def _hours(known: list[KnownHour], prepared: Prepared | None, first: dt.datetime) -> tuple[HourAhead, ...]:
    """Known hours in order, with the sun as the engine sees it where it has prepared it."""
    sun = prepared.values["sun_wm2"] if prepared else np.zeros(0)

    def sun_at(when: dt.datetime) -> float:
        place = round((when - first) / HOUR)
        return float(sun[place]) if 0 <= place < sun.size else 0.0

    return tuple(
        HourAhead(
            at=one.hour.at,
            air_c=float(one.hour.air_c or 0.0),
            wind_ms=one.hour.wind_ms,
            precip_mm=one.hour.precip_mm or 0.0,
            sun_wm2=sun_at(one.hour.at),
            observed=one.observed,
        )
        for one in known
    )
