"""Pure inputs for tests: hours of an invented cold spell, grounds, deeds; no rows, no site."""

import datetime as dt
import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from rinklog.ice.forcing import Place, prepare
from rinklog.ice.inputs import Deed, Ground, Hole, Inputs
from rinklog.ice.marching import errors_of, marched
from rinklog.ice.spread import Spread
from rinklog.ice.state import State, first_state
from rinklog.weather.hours import Hour
from rinklog.weather.known import KnownHour

START = dt.datetime(2026, 1, 5, 12, tzinfo=dt.UTC)
HOUR = dt.timedelta(hours=1)
PLACE = Place(55.0, 25.0)


def known(count: int, air_c: float = -8.0, **values: float) -> list[KnownHour]:
    """Observed hours with a daily swing of 4 K; sun follows from the cloud."""

    def one(number: int) -> KnownHour:
        at = START + number * HOUR
        swing = 4.0 * math.sin((at.hour - 9) / 24 * 2 * math.pi)
        told: dict[str, float] = {"humidity_frac": 0.8, "wind_ms": 2.5, "cloud_frac": 0.4}
        return KnownHour(Hour(at, air_c + swing, **(told | values)), True, "station", at)  # type: ignore[arg-type]

    return [one(number) for number in range(count)]


def grounds(*depths_m: float, shade_frac: float = 0.0) -> tuple[Ground, ...]:
    """Zones of 25 m² of some depths."""
    return tuple(Ground(n + 1, 25.0, depth_m, shade_frac) for n, depth_m in enumerate(depths_m))


def flood(hours: float, mm: float, zones: Sequence[int] = (0,)) -> Deed:
    """A coat some hours after the start."""
    return Deed(START + hours * HOUR, "flood", dict.fromkeys(zones, mm), f"flood {hours}", 5.0)


def clearing(hours: float, zones: Sequence[int] = (0,)) -> Deed:
    """Snow taken off."""
    return Deed(START + hours * HOUR, "clear-snow", dict.fromkeys(zones, 0.0), f"clear {hours}")


def hole(hours: float, ice_m: float, zone: int = 0, **more: Any) -> Hole:
    """A drill hole."""
    return Hole(START + hours * HOUR, zone, ice_m, f"hole {hours} {zone}", **more)


def inputs(hours: Sequence[KnownHour], floor: Sequence[Ground], **more: Any) -> Inputs:
    """A season of some hours; the surveyed water stands there at the start."""
    told: dict[str, Any] = {
        "seed": 7,
        "grounds": tuple(floor),
        "start": START,
        "stood_m": tuple(one.depth_m or 0.0 for one in floor),
        "begun": True,
        "weather": prepare(hours, PLACE),
        "spread": Spread(),
    }
    return Inputs(**(told | more))


def after(made: Inputs, hours: float | None = None) -> State:
    """The state some hours after the start, or at the end of the weather."""
    until = made.weather.end if hours is None else START + hours * HOUR
    return marched(first_state(made), made, until, errors_of(made))


def middle_mm(state: State, zone: int = 0) -> float:
    """Weighted mean of the ice of one zone [mm]."""
    from rinklog.ice.state import SETTINGS
    from rinklog.physics.column.marching import depths

    ice = depths(state.column, SETTINGS)["ice_m"].reshape(state.log_weights.shape)
    return float(np.sum(ice[zone] * state.weights[zone]) * 1000)
