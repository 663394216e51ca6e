"""Where poured water goes: a coat lies where it was sprayed, a fill finds its level over the surveyed floor."""

from __future__ import annotations

import numpy as np

from rinklog.physics.column.state import Floats

FILL_M = 0.040
"""More than this over the flooded zones is no coat (`physics.windows` knows coats up to 40 mm): it finds its level."""


def levelled_m(volume_m3: float, areas_m2: Floats, surfaces_m: Floats) -> Floats:
    """Depth that a volume adds to each zone when it finds its level.

    Arguments: volume_m3, areas_m2 (zones,), surfaces_m height of floor or of what lies on it (zones,). Returns: [m]
    (zones,), volume kept to rounding. Validity: zones are joined, water is not held up.
    """
    order = np.argsort(surfaces_m, kind="stable")
    heights, areas = surfaces_m[order], np.cumsum(areas_m2[order])
    below = areas * heights - np.cumsum(areas_m2[order] * heights)
    wet = max(int(np.searchsorted(below, volume_m3, side="right")) - 1, 0)
    level = heights[wet] + (volume_m3 - below[wet]) / areas[wet]
    return np.maximum(level - surfaces_m, 0.0)


def spread_m(
    volume_m3: float, area_m2: float, areas_m2: Floats, floors_m: Floats | None, stands_m: Floats
) -> Floats:
    """Depth that a flood adds to each of its zones.

    Arguments: volume_m3, area_m2 that was flooded as recorded, areas_m2 of the zones, floors_m their floor's height
    (None: not surveyed), stands_m what was poured there before. Returns: [m] (zones,).
    """
    mean_m = volume_m3 / area_m2
    if floors_m is None or mean_m <= FILL_M:
        return np.full(len(areas_m2), mean_m)
    return levelled_m(mean_m * float(areas_m2.sum()), areas_m2, floors_m + stands_m)
