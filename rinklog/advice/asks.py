"""What else the column engine is asked for advice: what snow costs, what a cover melts, when a wet coat is dry. Pure."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import fields
from zoneinfo import ZoneInfo

import numpy as np

from rinklog.advice.situation import HOUR, SnowLoss, TarpDay
from rinklog.clock import day_bounds, local_day
from rinklog.physics.column import Action, Column, Settings, Weather, march
from rinklog.physics.column.actions import apply
from rinklog.physics.column.forcing import steps_of
from rinklog.physics.column.marching import WET
from rinklog.physics.column.state import Floats
from rinklog.physics.windows import cover_melt

LEAST_GROWTH_M = 0.0005  # less growth than this is no freezing to lose
DRY_M = 0.0002
TARP_LAID = range(8, 14)  # local hours at which a cover may be laid


def pick(column: Column, places: Sequence[int]) -> Column:
    """Some columns out of many."""
    at = np.asarray(places, dtype=np.intp)
    values = {one.name: getattr(column, one.name) for one in fields(column)}
    return Column(**{n: v[:, at] if n == "cells" else v[at] for n, v in values.items()})


def resampled(weights: Floats, wanted: int) -> list[int]:
    """Members drawn evenly along the sum of their weights: equal weights after it, and no chance in it."""
    marks = (np.arange(wanted) + 0.5) / wanted * float(np.sum(weights))
    return np.minimum(np.searchsorted(np.cumsum(weights), marks), len(weights) - 1).tolist()


def snow_loss(
    column: Column,
    weather: Weather,
    settings: Settings,
    now: dt.datetime,
    hours: int,
    shade_frac: float = 0.0,
) -> SnowLoss | None:
    """What the snow on a column costs in freezing within some hours; None when nothing would freeze anyway.

    Arguments: column (one) as it lies, weather without members from now, settings, now, hours. Returns: SnowLoss: the
    loss in hours is the share of growth that is lost times the hours. Validity: as the column engine.
    """
    count = min(hours, len(weather.hold_s))
    ahead = steps_of(weather, 0, count)
    bare, _ = apply(column, Action(0.0, "clear-snow"), settings)
    begun = float(column.phases(settings).solid.sum()) / settings.rho_ice_kgm3

    def grown(start: Column) -> float:
        end, _ = march(start, ahead, settings, shade_frac=shade_frac, keep=())
        return float(end.phases(settings).solid.sum()) / settings.rho_ice_kgm3 - begun

    clear, snowed = grown(bare), grown(column)
    if clear < LEAST_GROWTH_M or snowed >= clear:
        return None
    lost = count * (1 - max(snowed, 0.0) / clear)
    return SnowLoss(now + count * HOUR, clear, max(snowed, 0.0), lost)


def tarp_day(
    column: Column,
    weather: Weather,
    settings: Settings,
    first_at: dt.datetime,
    zone: ZoneInfo,
    shade_frac: float = 0.0,
) -> TarpDay | None:
    """The best hour of tomorrow to lay a dark cover, and when to lift it; None when it melts nothing in any.

    Arguments: column (one), weather without members from first_at (a full hour), settings, zone. Returns: TarpDay.
    """
    tomorrow = local_day(first_at, zone) + dt.timedelta(days=1)
    end = min(len(weather.hold_s), int((day_bounds(tomorrow, zone)[1] - first_at) / HOUR))
    best: TarpDay | None = None
    at = 0
    for n in range(end):
        when = (first_at + n * HOUR).astimezone(zone)
        if when.date() != tomorrow or when.hour not in TARP_LAID:
            continue
        column = marched(column, steps_of(weather, at, n), settings, shade_frac)
        at = n
        clear, _ = apply(column, Action(0.0, "clear-snow"), settings)
        melt = cover_melt(clear, steps_of(weather, n, end), settings, shade_frac=shade_frac)
        if melt.lift_h is not None and (best is None or melt.total_mm / 1000 > best.melt_m):
            lay = first_at + n * HOUR
            best = TarpDay(lay, lay + dt.timedelta(hours=melt.lift_h), melt.total_mm / 1000)
    return best


def dry_after_h(column: Column, weather: Weather, settings: Settings, shade_frac: float = 0.0) -> Floats:
    """Hours until no liquid lies on each column any more, at the end of a whole hour; infinite when not in sight."""
    wet = march(column, weather, settings, shade_frac=shade_frac, keep=(WET,))[1][WET]
    dry = wet <= DRY_M
    return np.where(dry.any(axis=0), dry.argmax(axis=0) + 1.0, np.inf)


def marched(column: Column, weather: Weather, settings: Settings, shade_frac: float = 0.0) -> Column:
    """The column at the end of some hours; as it is when there are none."""
    if not len(weather.hold_s):
        return column
    return march(column, weather, settings, shade_frac=shade_frac, keep=())[0]
