"""The search for times to flood: every start hour and every coat, marched through every member of the forecast.

Pure: columns and weather in, hours of freezing out, then windows chosen from them. Nothing is left out to save time, so
that the choice is the one that trying everything would make.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from rinklog.physics.column import Action, Column, Settings, Weather, march
from rinklog.physics.column.actions import apply
from rinklog.physics.column.forcing import steps_of
from rinklog.physics.column.marching import WET
from rinklog.physics.column.state import Floats
from rinklog.physics.windows import hours_to_freeze

COATS_MM = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0)
HOUR_S = 3600.0
WET_LIES_M = 0.0005
"""A flood waits for the coat before it: this much still liquid in half of the members is a wet coat."""


@dataclass(frozen=True)
class Freezing:
    """What every start and coat would take: hours (starts, coats, members), infinite when not within `limit_h`.

    wet_m: liquid already lying at each start, the middle of the members (starts,) [m].
    """

    starts_h: tuple[int, ...]
    coats_mm: tuple[float, ...]
    hours: Floats
    limit_h: tuple[int, ...]
    wet_m: Floats


def freezing(
    column: Column,
    members: Weather,
    settings: Settings,
    starts_h: Sequence[int],
    limits_h: Sequence[int],
    coats_mm: Sequence[float] = COATS_MM,
    *,
    water_c: float = 5.0,
    shade_frac: float = 0.0,
) -> Freezing:
    """Hours that a coat flooded at each start takes to freeze through, in each member.

    Arguments: column of M members now, members weather of whole hours (R, M), starts_h hours after now, limits_h how
    long each may take [h], coats_mm of water, water_c [°C], shade_frac. Returns: Freezing. Validity: snow is cleared
    before each flood; coats 0.5-40 mm; a start and its limit lie within the weather.
    """
    count, coats = column.columns, np.asarray(coats_mm, dtype=float)
    found = np.full((len(starts_h), coats.size, count), np.inf)
    wet = np.zeros(len(starts_h))
    at = 0
    for place, (start, limit) in sorted(
        enumerate(zip(starts_h, limits_h, strict=True)), key=lambda one: one[1][0]
    ):
        column, at = _to(column, members, settings, at, start, shade_frac)
        wet[place] = float(np.median(wet_now_m(column, settings)))
        bare, _ = apply(column, Action(0.0, "clear-snow"), settings)
        need = hours_to_freeze(
            bare.repeat(coats.size),
            _cut(members, start, limit, coats.size),
            settings,
            np.tile(coats, count),
            water_c=water_c,
            shade_frac=shade_frac,
        )
        found[place] = need.reshape(count, coats.size).T
    return Freezing(tuple(starts_h), tuple(coats.tolist()), found, tuple(limits_h), wet)


def wet_now_m(column: Column, settings: Settings) -> Floats:
    """Liquid and slush that lie on the ice [m] (columns,)."""
    still = Weather(hold_s=np.array([1.0]), air_c=settings.freezing_c, wind_ms=0.0)
    return np.asarray(march(column, still, settings, keep=(WET,))[1][WET][0])


def _to(
    column: Column, members: Weather, settings: Settings, at: int, start: int, shade_frac: float
) -> tuple[Column, int]:
    if start > at:
        column, _ = march(column, _cut(members, at, start - at, 1), settings, shade_frac=shade_frac, keep=())
    return column, max(at, start)


def _cut(members: Weather, start: int, hours: int, times: int) -> Weather:
    """Some hours of the members' weather, each member repeated for its coats."""
    piece = steps_of(members, start, start + hours)

    def repeated(value: Any) -> Any:
        return np.repeat(value, times, axis=1) if getattr(value, "ndim", 0) == 2 else value

    return replace(piece, **{name: repeated(value) for name, value in vars(piece).items()})


@dataclass(frozen=True)
class Choice:
    """The best coat of one start: its hours to freeze (low, middle, high), chance in time, and expected ice [mm]."""

    start_h: int
    coat_mm: float
    low_h: float
    middle_h: float
    high_h: float
    chance: float
    score_mm: float


def hours_of(found: Freezing, place: int, factor: float = 1.0, pour_h_per_mm: float = 0.0) -> Floats:
    """Hours from a start until the zone that the hose comes to last is frozen through (coats, members).

    A `factor` multiplies the hours of freezing; the hose runs `pour_h_per_mm` for each millimetre of coat before that.
    """
    return np.asarray(found.hours[place] * factor + np.asarray(found.coats_mm)[:, None] * pour_h_per_mm)


def chances(
    found: Freezing, place: int, deadline_h: float, factor: float = 1.0, pour_h_per_mm: float = 0.0
) -> Floats:
    """Share of members in which each coat of a start is frozen within so many hours of the start (coats,)."""
    return np.asarray((hours_of(found, place, factor, pour_h_per_mm) <= deadline_h).mean(axis=1))


def best_coat(
    found: Freezing,
    place: int,
    deadline_h: float,
    wanted: float,
    thickest_mm: float,
    factor: float = 1.0,
    pour_h_per_mm: float = 0.0,
) -> Choice | None:
    """The coat with the most expected ice in time, of those likely enough and not too thick; None when there is none.

    Expected ice is the coat times its chance; of equals the thinner one. factor and pour_h_per_mm as in `hours_of`.
    """
    share = chances(found, place, deadline_h, factor, pour_h_per_mm)
    coats = np.asarray(found.coats_mm)
    good = (share >= wanted - 1e-9) & (coats <= thickest_mm + 1e-9)
    if not good.any() or found.wet_m[place] >= WET_LIES_M:
        return None
    coat = int(np.argmax(np.where(good, coats * share, -1.0)))
    low, middle, high = spread(hours_of(found, place, factor, pour_h_per_mm)[coat])
    coat_mm = found.coats_mm[coat]
    return Choice(
        found.starts_h[place], coat_mm, low, middle, high, float(share[coat]), coat_mm * float(share[coat])
    )


def spread(hours: Floats) -> tuple[float, float, float]:
    """Hours by which 10, 50 and 90 % of the members are frozen; infinite where too few are."""
    ordered = np.sort(hours)
    places = [min(len(ordered) - 1, max(0, int(np.ceil(p * len(ordered))) - 1)) for p in (0.1, 0.5, 0.9)]
    return tuple(float(ordered[place]) for place in places)  # type: ignore[return-value]
