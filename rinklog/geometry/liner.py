"""How large a sheet the liner must be cut."""

from __future__ import annotations

from typing import NamedTuple

from rinklog.physics.validity import require


class Liner(NamedTuple):
    """The sheet to cut [m, m²]."""

    cut_length_m: float
    cut_width_m: float
    area_m2: float


def liner(length_m: float, width_m: float, board_m: float, depth_m: float, overlap_m: float = 0.3) -> Liner:
    """Sheet that covers the floor, climbs the boards from the deepest floor and hangs over them, both ways.

    Arguments: length_m, width_m inside the boards, board_m their height above the floor, depth_m the floor
    falls below them, overlap_m over the top [m]. Returns: Liner. Validity: sizes positive. Source: common
    practice.
    """
    require("length_m", length_m, 0.1, 1000, "m")
    require("width_m", width_m, 0.1, 1000, "m")
    require("board_m", board_m, 0, 5, "m")
    require("depth_m", depth_m, 0, 5, "m")
    require("overlap_m", overlap_m, 0, 5, "m")
    rise = 2 * (depth_m + board_m + overlap_m)
    return Liner(length_m + rise, width_m + rise, (length_m + rise) * (width_m + rise))
