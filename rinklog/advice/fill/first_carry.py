"""The first day it carries: standing water of the rink's depths, frozen through an ensemble around the forecast."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rinklog.physics.column import Column, Settings, Weather, march
from rinklog.physics.column.state import Floats
from rinklog.physics.windows import ensemble

MEMBERS = 15
STEP_S = 3600.0
SEED = 1  # the same forecast gives the same answer
BAND = (0.1, 0.5, 0.9)
Moment = dt.datetime | None


@dataclass(frozen=True)
class Carries:
    """When the last zone reaches the wanted ice, and when the deepest is frozen through: in 10, 50 and 90 % of the
    forecasts; None where the forecast ends first. `never_frac`: the share in which it does not carry in time at all.
    """

    carries_at: tuple[Moment, Moment, Moment]
    through_at: tuple[Moment, Moment, Moment]
    never_frac: float
    ends_at: dt.datetime


def first_carry(
    weather: Weather, start: dt.datetime, depths_m: Sequence[float], wanted_m: float, *, lead_h: float = 0.0
) -> Carries:
    """Freeze water that stands in the basin from `start` on.

    Arguments: weather of hours from start, depths_m of the zones [m], wanted_m ice before people skate [m], lead_h age of
    the forecast [h]. Returns: Carries. Validity: still water at 0 °C, no snow cleared, errors as ForecastError; it opens
    nothing: a person drills.
    """
    depths = representative(depths_m)
    members = ensemble(weather, MEMBERS, SEED, lead_h=lead_h)
    wide = widened(members, len(depths))
    carries, through = (
        hours.reshape(len(depths), MEMBERS).max(axis=0)
        for hours in freeze(np.repeat(depths, MEMBERS), wide, wanted_m)
    )
    return Carries(
        _band(carries, start),
        _band(through, start),
        float(np.mean(~np.isfinite(carries))),
        start + dt.timedelta(seconds=float(np.sum(weather.hold_s))),
    )


def freeze(depth_m: Floats, weather: Weather, wanted_m: float) -> tuple[Floats, Floats]:
    """Hours until each column carries, and until it is frozen through; infinite where the weather ends first.

    As `physics.windows.first_fill`, but marched by the hour and read between hours on a line: a page waits for it, and
    a first fill takes days. Arguments: depth_m (columns,), weather (hours, columns), wanted_m. Returns: [h] (columns,).
    """
    settings = Settings()
    column = Column.start(settings, depth_m.size, water_m=depth_m, water_c=0.0)
    keep = ("ice_m", "water_m", "slush_m")
    record = march(column, weather, settings, step_s=STEP_S, keep=keep)[1]
    through = first_below(record["water_m"] + record["slush_m"], np.full(depth_m.size, 1e-6))
    frozen_m = depth_m * settings.rho_water_kgm3 / settings.rho_ice_kgm3
    carries = first_below(-record["ice_m"], -np.minimum(wanted_m, frozen_m * 0.999))
    return np.minimum(carries, through), through


def first_below(path: Floats, goal: Floats) -> Floats:
    """Hours at which each column of an hourly path first reaches its goal, on a line from the hour before."""
    there = path <= goal
    first = there.argmax(axis=0)
    rows = np.arange(path.shape[1])
    now, before = path[first, rows], path[np.maximum(first - 1, 0), rows]
    fell = np.where(first > 0, before - now, 0.0)
    share = np.where(fell > 0, (before - goal) / np.where(fell > 0, fell, 1.0), 1.0)
    return np.where(there.any(axis=0), first + np.clip(share, 0, 1), np.inf)


def representative(depths_m: Sequence[float]) -> Floats:
    """The shallowest and the deepest: under one sky every other zone lies between them."""
    return np.unique([min(depths_m), max(depths_m)])


def widened(weather: Weather, times: int) -> Weather:
    """Members repeated for each of several depths, members fastest."""

    def wide(value: object) -> object:
        values = np.asarray(value, dtype=float) if value is not None else None
        if values is None or values.ndim < 2:
            return value
        return np.tile(values, (1, times))

    names = [name for name in vars(weather) if name != "hold_s"]
    return replace(weather, **{name: wide(getattr(weather, name)) for name in names})  # type: ignore[arg-type]


def _band(hours: Floats, start: dt.datetime) -> tuple[Moment, Moment, Moment]:
    """Members' hours in order, as moments at 10, 50 and 90 %; infinite ones come last and are None."""
    ordered = np.sort(hours)
    picked = [float(ordered[min(math.ceil(share * len(ordered)), len(ordered)) - 1]) for share in BAND]
    found = [start + dt.timedelta(hours=one) if math.isfinite(one) else None for one in picked]
    return found[0], found[1], found[2]
