"""From a survey of the ground to what must be bought: water, liner, boards, hose hours, stakes. Pure arithmetic."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rinklog.geometry.boards import force_nm, moment_nmm
from rinklog.geometry.corner import Stakes, stakes
from rinklog.geometry.hose import fill_s
from rinklog.geometry.levels import MOST_LEVELS, read_levels
from rinklog.geometry.liner import Liner, liner
from rinklog.geometry.marking import Marking, marking, reels
from rinklog.geometry.sheet import Sheet
from rinklog.geometry.standing import Placed, SiteError, Standing, depth_map, standing

__all__ = ["MOST_LEVELS", "Kit", "SiteError", "SitePlan", "plan_site", "read_levels"]

BRACKETS_A_JOINT = 2
"""One near the top and one near the foot: common practice, no source."""


@dataclass(frozen=True)
class Kit:
    """What the keeper builds with. Lengths [m], hose [l/s]."""

    cover_m: float = 0.05
    board_m: float = 0.4
    board_length_m: float = 2.44
    stake_gap_m: float = 1.2
    overlap_m: float = 0.3
    net_m: float = 0.0
    net_length_m: float = 6.0
    reel_m: float = 50.0
    lines_at_m: Sequence[float] = ()
    circle_radii_m: Sequence[float] = ()


@dataclass(frozen=True)
class Parts:
    """Counts of what is put up."""

    boards: int
    bent_boards: int
    brackets: int
    stakes: int
    nets: int
    reels: int


@dataclass(frozen=True)
class SitePlan:
    """What a site needs. Depths and lengths [m], push [N/m] and moment [N·m/m] at the deepest board, hose [h]."""

    standing: Standing
    depths_m: list[list[float]]
    liner: Liner
    push_nm: float
    moment_nmm: float
    hose_h: float | None
    diagonal_m: float
    parts: Parts
    corner: Stakes | None
    marking: Marking


def plan_site(
    placed: Placed, kit: Kit, *, flow_ls: float | None, cells: tuple[int, int] = (8, 4)
) -> SitePlan:
    """What a site needs when the highest ground inside the boards lies `kit.cover_m` under water.

    Arguments: placed; kit; flow_ls of the hose [l/s]; cells of the depth map. Returns: SitePlan. Errors: SiteError
    "steep" when the water would stand higher than the boards; others as standing() and marking(). Source: quadrature,
    hydrostatics, definitions.
    """
    sheet, water = placed.sheet, standing(placed, kit.cover_m)
    if water.board_depth_m > kit.board_m:
        raise SiteError("steep", deepest=water.board_depth_m, board=kit.board_m)
    marks = marking(sheet, kit.lines_at_m, kit.circle_radii_m)
    return SitePlan(
        standing=water,
        depths_m=depth_map(placed, kit.cover_m, *cells),
        liner=liner(water.profile_length_m, water.profile_width_m, kit.board_m, 0.0, kit.overlap_m),
        push_nm=float(force_nm(water.board_depth_m)),
        moment_nmm=float(moment_nmm(water.board_depth_m)),
        hose_h=float(fill_s(water.volume_m3, flow_ls / 1000)) / 3600 if flow_ls else None,
        diagonal_m=math.hypot(sheet.length_m, sheet.width_m),
        parts=parts(sheet, kit, marks),
        corner=stakes(sheet.corner_m, min(kit.stake_gap_m, 1.0)) if sheet.corner_m >= 0.1 else None,
        marking=marks,
    )


def parts(sheet: Sheet, kit: Kit, marks: Marking) -> Parts:
    """Counts: whole boards side by side with one cut at the end of each straight; bent ones for the corners.

    Arguments: sheet; kit; marks. Returns: Parts. Validity: no offcut is used twice; nets stand behind both ends and
    around their corners. Source: division, rounded up.
    """
    straights = (sheet.length_m - 2 * sheet.corner_m, sheet.width_m - 2 * sheet.corner_m)
    arc = math.pi / 2 * sheet.corner_m
    boards = 2 * sum(_up(straight, kit.board_length_m) for straight in straights)
    bent = 4 * _up(arc, kit.board_length_m)
    joints = boards + bent
    net = straights[1] + 2 * arc
    return Parts(
        boards=boards,
        bent_boards=bent,
        brackets=BRACKETS_A_JOINT * joints,
        stakes=2 * sum(_up(straight, kit.stake_gap_m) for straight in straights)
        + 4 * _up(arc, kit.stake_gap_m),
        nets=2 * _up(net, kit.net_length_m) if kit.net_m > 0 else 0,
        reels=reels(marks.total_m, kit.reel_m),
    )


def _up(length_m: float, piece_m: float) -> int:
    return math.ceil(length_m / piece_m - 1e-9)
