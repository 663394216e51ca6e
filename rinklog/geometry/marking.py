"""Rope light for lines and circles under the ice: lengths that end at the boards."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rinklog.geometry.corner import perimeter_m
from rinklog.geometry.sheet import Sheet
from rinklog.geometry.standing import SiteError

MOST = 40


@dataclass(frozen=True)
class Marking:
    """Lines across the ice and circles on it: where or how large, and how much rope light each takes [m]."""

    lines_m: tuple[tuple[float, float], ...]
    circles_m: tuple[tuple[float, float], ...]

    @property
    def total_m(self) -> float:
        """All of it [m]."""
        return sum(each for _, each in (*self.lines_m, *self.circles_m))


def marking(sheet: Sheet, lines_at_m: Sequence[float], circle_radii_m: Sequence[float]) -> Marking:
    """Lengths of lines from board to board and of circles.

    Arguments: sheet; lines_at_m from the near end, circle_radii_m [m]. Returns: Marking. Errors: SiteError "line" or
    "circle" for one that is not on the ice, "many-marks". Source: chord of the rounded rectangle; 2 π r.
    """
    if len(lines_at_m) + len(circle_radii_m) > MOST:
        raise SiteError("many-marks", most=MOST)
    for at in lines_at_m:
        if not 0 < at < sheet.length_m:
            raise SiteError("line", at=at, length=sheet.length_m)
    for radius in circle_radii_m:
        if not 0 < radius <= min(sheet.length_m, sheet.width_m) / 2:
            raise SiteError("circle", radius=radius, most=min(sheet.length_m, sheet.width_m) / 2)
    return Marking(
        tuple((at, 2 * float(sheet.half_chord_m(at))) for at in lines_at_m),
        tuple((radius, perimeter_m(radius)) for radius in circle_radii_m),
    )


def reels(total_m: float, reel_m: float) -> int:
    """Reels of a length that hold a total, pieces joined. Arguments: [m]. Returns: count. Source: division."""
    return math.ceil(total_m / reel_m - 1e-9) if total_m > 0 else 0
