"""Reading a survey: heights typed or out of a CSV file, or four corner heights."""

from __future__ import annotations

import math

from rinklog.geometry.standing import SiteError

MOST_LEVELS = 10_000
UNITS_M = {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "in": 0.0254}
HIGHEST_M = 100.0


def read_levels(text: str, unit: str = "m") -> list[list[float]]:
    """Heights typed or out of a CSV file: rows along the length, values across split by comma, semicolon or tab.

    Arguments: text; unit of its numbers. Returns: levels [m]. Errors: SiteError "hole", "number", "ragged", "few" or
    "many". A semicolon or tab lets a comma be the decimal point.
    """
    rows = [line for line in text.lstrip("\ufeff").strip().splitlines() if line.strip()]
    found: list[list[float]] = []
    for number, line in enumerate(rows, start=1):
        mark = next((one for one in ";\t," if one in line), ",")
        cells = line.replace(",", ".").split(mark) if mark != "," else line.split(mark)
        found.append([_level(cell, number, place, unit) for place, cell in enumerate(cells, start=1)])
        if len(found[-1]) != len(found[0]):
            raise SiteError("ragged", row=number, found=len(found[-1]), wanted=len(found[0]))
        if sum(map(len, found)) > MOST_LEVELS:
            raise SiteError("many", most=MOST_LEVELS)
    if len(found) < 2 or len(found[0]) < 2:
        raise SiteError("few")
    return found


def _level(cell: str, row: int, column: int, unit: str) -> float:
    if not cell.strip():
        raise SiteError("hole", row=row, column=column)
    try:
        value = float(cell.strip()) * UNITS_M[unit]
    except ValueError:
        value = math.nan
    if not abs(value) <= HIGHEST_M:
        raise SiteError("number", row=row, column=column, value=cell.strip()[:20])
    return value


def out_of_plane_m(levels_m: list[list[float]]) -> float | None:
    """How far the fourth of four corner heights lies from the plane of the other three; None for a larger grid.

    Arguments: levels_m [m]. Returns: [m]. Source: a plane has near left + far right = near right + far left.
    """
    if len(levels_m) != 2 or len(levels_m[0]) != 2:
        return None
    return abs(levels_m[0][0] + levels_m[1][1] - levels_m[0][1] - levels_m[1][0])
