"""What a wind record brings from each direction, and the fence that would hold it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from rinklog.physics.drift import relocated_kgm, threshold_ms, transport_kgms
from rinklog.physics.validity import require

SECTORS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
CALM_MS = 0.5
Blow = tuple[float, float, float]
"""Wind at 10 m [m/s], where it comes from [°], air [°C]: one hour."""


@dataclass(frozen=True)
class Sector:
    """One direction: hours with drifting wind, snow it could carry, what lies there to be carried, what comes [t/m]."""

    name: str
    hours: int
    potential_tm: float
    ceiling_tm: float | None
    fetch_m: float | None

    @property
    def comes_tm(self) -> float:
        """The lesser of what the wind could carry and what snow there is [t/m]."""
        return self.potential_tm if self.ceiling_tm is None else min(self.potential_tm, self.ceiling_tm)


def sector_of(from_deg: float) -> int:
    """Which of the eight directions a wind comes from. Arguments: [° from north]. Returns: 0-7. Source: 45° each."""
    return int(((from_deg + 22.5) % 360) // 45)


def sectors(
    blows: Iterable[Blow], fetches_m: Sequence[float | None], snow_water_mm: float | None
) -> list[Sector]:
    """Snow that a record of hours brings from each of eight directions.

    Arguments: blows, one hour each; fetches_m of open ground by direction [m]; snow_water_mm of the whole winter [mm].
    Returns: eight Sectors. Validity: wind at 10 m; snow that can drift lies upwind in every hour counted; the winter's
    snow is shared among the directions as their winds could carry it. Source: Tabler 1994, q = u^3.8 / 233847 and the
    limit of relocated snow; threshold of Li & Pomeroy 1997.
    """
    hours, carried = [0] * 8, [0.0] * 8
    for wind_ms, from_deg, air_c in blows:
        require("wind_ms", wind_ms, 0, 60, "m/s")
        if wind_ms < CALM_MS or wind_ms < float(threshold_ms(max(min(air_c, 50.0), -60.0))):
            continue
        at = sector_of(from_deg)
        hours[at] += 1
        carried[at] += 3.6 * float(transport_kgms(wind_ms))
    total = sum(carried)
    return [
        Sector(
            name,
            hours[i],
            carried[i],
            ceiling_tm(fetches_m[i], snow_water_mm, carried[i], total),
            fetches_m[i],
        )
        for i, name in enumerate(SECTORS)
    ]


def ceiling_tm(fetch_m: float | None, snow_water_mm: float | None, part: float, total: float) -> float | None:
    """Most snow that can come over a fetch [t/m]: a direction's share of the winter's relocated snow.

    Arguments: fetch_m [m]; snow_water_mm [mm]; part and total of what the winds could carry. Returns: [t/m], None when
    the fetch or the snow is not known. Source: Tabler 1994, Q = 0.5 T S (1 - 0.14^(F/T)).
    """
    if fetch_m is None or snow_water_mm is None:
        return None
    whole = float(relocated_kgm(fetch_m, snow_water_mm)) / 1000
    return whole * part / total if total > 0 else whole


def away_deg(first_deg: float, second_deg: float) -> float:
    """Angle between two directions. Arguments: [°]. Returns: 0-180 [°]. Source: the shorter way round."""
    return abs((first_deg - second_deg + 180) % 360 - 180)


def guarded(from_deg: float, fence_deg: float, within_deg: float = 30.0) -> bool:
    """Whether a fence for one wind also stands for another.

    Arguments: from_deg, fence_deg the wind it was built for [°]; within_deg [°]. Returns: yes or no. Source: Jairell &
    Schmidt, ±30° for a fence that reaches past the ends of what it guards.
    """
    return away_deg(from_deg, fence_deg) <= within_deg


def overlap_m(setback_m: float, within_deg: float = 30.0) -> float:
    """How far a fence should reach past what it guards, at either end.

    Arguments: setback_m [m]; within_deg [°]. Returns: [m]. Source: so that winds up to that angle still cross it,
    setback · tan.
    """
    return float(setback_m * np.tan(math.radians(within_deg)))
