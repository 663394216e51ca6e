"""From a survey of the ground to what must be bought: water, liner, boards, hose hours, stakes. Pure arithmetic."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rinklog.geometry.basin import Basin, surveyed
from rinklog.geometry.boards import force_nm
from rinklog.geometry.corner import Stakes, stakes
from rinklog.geometry.hose import fill_s
from rinklog.geometry.liner import Liner, liner

MOST_LEVELS = 10_000


class SiteError(ValueError):
    """A survey that cannot be used: a code and what belongs to it; the page says it in a sentence."""

    def __init__(self, code: str, **params: object) -> None:
        self.code, self.params = code, params
        super().__init__(f"{code} {params}")


@dataclass(frozen=True)
class SitePlan:
    """What a site needs. Depths and lengths [m], push on the boards [N/m], hose [h]."""

    basin: Basin
    depths_m: tuple[tuple[float, ...], ...]
    liner: Liner
    push_nm: float
    hose_h: float | None
    diagonal_m: float
    boards: int
    posts: int
    corner: Stakes | None


def read_levels(text: str) -> list[list[float]]:
    """Heights typed or out of a CSV file: rows across, values split by comma, semicolon or tab.

    Arguments: text. Returns: levels [m]. Errors: SiteError "hole", "number", "ragged", "few" or "many".
    """
    rows = [line for line in text.strip().splitlines() if line.strip()]
    found: list[list[float]] = []
    for number, line in enumerate(rows, start=1):
        mark = next((one for one in ";\t," if one in line), ",")
        found.append([_level(cell, number, place) for place, cell in enumerate(line.split(mark), start=1)])
        if len(found[-1]) != len(found[0]):
            raise SiteError("ragged", row=number, found=len(found[-1]), wanted=len(found[0]))
        if sum(map(len, found)) > MOST_LEVELS:
            raise SiteError("many", most=MOST_LEVELS)
    if len(found) < 2 or len(found[0]) < 2:
        raise SiteError("few")
    return found


def _level(cell: str, row: int, column: int) -> float:
    if not cell.strip():
        raise SiteError("hole", row=row, column=column)
    try:
        value = float(cell.strip())
    except ValueError:
        value = math.nan
    if not abs(value) <= 100:
        raise SiteError("number", row=row, column=column, value=cell.strip()[:20])
    return value


def plan_site(
    levels_m: list[list[float]],
    size_m: tuple[float, float, float],
    *,
    cover_m: float,
    board_m: float,
    board_length_m: float,
    flow_ls: float | None,
) -> SitePlan:
    """What a site needs when the highest ground lies `cover_m` under water.

    Arguments: levels_m, rows along the length [m]; size_m length, width, corner radius [m]; cover_m, board_m height of
    the boards, board_length_m of one board [m]; flow_ls [l/s]. Returns: SitePlan. Errors: SiteError "steep" when the
    water would stand higher than the boards. Source: trapezoid rule, hydrostatics, definitions.
    """
    length, width, corner = size_m
    water = max(map(max, levels_m)) + cover_m
    spacing = length / (len(levels_m) - 1), width / (len(levels_m[0]) - 1)
    basin = surveyed(np.asarray(levels_m, dtype=float), *spacing, water)
    deepest = basin.greatest_depth_m
    if deepest > board_m:
        raise SiteError("steep", deepest=deepest, board=board_m)
    around = 2 * (length + width) - (8 - 2 * math.pi) * corner
    boards = math.ceil(around / board_length_m - 1e-9)
    return SitePlan(
        basin=basin,
        depths_m=tuple(tuple(water - level for level in row) for row in levels_m),
        liner=liner(length, width, board_m, 0.0),
        push_nm=float(force_nm(deepest)),
        hose_h=float(fill_s(basin.volume_m3, flow_ls / 1000)) / 3600 if flow_ls else None,
        diagonal_m=math.hypot(length, width),
        boards=boards,
        posts=2 * boards,
        corner=stakes(corner, 1.0) if corner >= 0.1 else None,
    )
