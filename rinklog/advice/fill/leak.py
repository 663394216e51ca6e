"""A leak suspected: metered water in, against the level found."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rinklog.ice.filling import levelled_m

ICE_OVER_WATER = 0.917  # density of ice over that of water, kg a litre; from memory
# A hole is read to about a centimetre, and the ground under a liner settles: common practice, no source.
LEAST_MISSING_M = 0.010
LEAST_SHARE = 0.10


@dataclass(frozen=True)
class Floor:
    """One zone of the basin: its area [m²], and how deep it is below the level it is to be filled to [m]."""

    zone_id: int
    area_m2: float
    depth_m: float | None


@dataclass(frozen=True)
class Found:
    """What somebody found in one zone: water and ice together, as a depth of water [m]."""

    zone_id: int
    depth_m: float


@dataclass(frozen=True)
class Missing:
    """Water that went in and is not there: by volume [m³], by level [m], and how much it was of what went in [0-1]."""

    water_in_m3: float
    there_m3: float
    missing_m3: float
    level_m: float
    share_frac: float

    @property
    def suspected(self) -> bool:
        """Whether it is more than a reading can be wrong by."""
        return self.level_m >= LEAST_MISSING_M and self.share_frac >= LEAST_SHARE


def water_depth_m(clear_m: float, white_m: float, under_m: float) -> float:
    """Ice and the water beneath as a depth of water [m]; arguments in metres."""
    return (clear_m + white_m) * ICE_OVER_WATER + under_m


def missing(floors: Sequence[Floor], water_in_m3: float, found: Sequence[Found]) -> Missing | None:
    """How much of the water that went in is not there, by the holes that were found; None when nothing can be said.

    Arguments: floors of every zone, water_in_m3 that stays in the basin (metered), found depths. Validity: still
    water finds its level; rain and snow that fell in are not counted, so that they hide a leak rather than invent
    one. Where the ground was not surveyed it is taken to be level.
    """
    areas = np.array([floor.area_m2 for floor in floors])
    if not found or not water_in_m3 > 0 or not areas.sum() > 0:
        return None
    surveyed = all(floor.depth_m is not None for floor in floors)
    ground = np.array([-(floor.depth_m or 0.0) if surveyed else 0.0 for floor in floors])
    place = {floor.zone_id: n for n, floor in enumerate(floors)}
    heights = [
        ground[place[one.zone_id]] + one.depth_m for one in found if one.zone_id in place and one.depth_m > 0
    ]
    if not heights:
        return None
    level = float(np.median(heights))
    there = float((areas * np.maximum(level - ground, 0.0)).sum())
    expected = float((ground + levelled_m(water_in_m3, areas, ground)).max())
    lost = water_in_m3 - there
    return Missing(water_in_m3, there, lost, expected - level, lost / water_in_m3)
