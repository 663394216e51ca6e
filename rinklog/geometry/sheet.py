"""The sheet inside its boards: its outline, points to integrate over, and where it lies on the surveyed field.

u runs along the sheet's length from the near end, v across from the left side [m].
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from rinklog.geometry.ground import Array

PANEL_M = 0.25
EDGE_M = 0.1
_GAUSS = (0.5 - math.sqrt(1 / 12), 0.5 + math.sqrt(1 / 12))


@dataclass(frozen=True)
class Sheet:
    """A rectangle with rounded corners [m]."""

    length_m: float
    width_m: float
    corner_m: float = 0.0

    @property
    def area_m2(self) -> float:
        """Area [m²]. Source: rectangle less four corners."""
        return self.length_m * self.width_m - (4 - math.pi) * self.corner_m**2

    @property
    def around_m(self) -> float:
        """Length of the boards [m]. Source: four straights and a circle."""
        return 2 * (self.length_m + self.width_m) - (8 - 2 * math.pi) * self.corner_m

    def half_chord_m(self, u_m: Array | float) -> Array:
        """Half the width of the ice at a distance from the near end [m]."""
        u = np.asarray(u_m, dtype=float)
        into = np.clip(np.maximum(self.corner_m - u, u - (self.length_m - self.corner_m)), 0.0, self.corner_m)
        return self.width_m / 2 - self.corner_m + np.sqrt(self.corner_m**2 - into**2)

    @cached_property
    def points(self) -> tuple[Array, Array, Array]:
        """Points u, v [m] and the area each stands for [m²]: two-point Gauss in panels of at most PANEL_M.

        In the rounded ends the panels are steps of the arc's angle, so that its end costs no digits.
        """
        u, weight = _along(self)
        half = self.half_chord_m(u)
        count = max(1, math.ceil(self.width_m / PANEL_M))
        share = np.add.outer(np.arange(count), np.array(_GAUSS)).ravel() / count
        v = self.width_m / 2 + np.outer(half, 2 * share - 1)
        area = np.outer(weight * 2 * half, np.full(share.size, 1 / share.size))
        return np.broadcast_to(u[:, None], v.shape).ravel(), v.ravel(), area.ravel()

    @cached_property
    def edge(self) -> tuple[Array, Array]:
        """Points u, v [m] along the boards, at most EDGE_M apart, once around from the near left corner."""
        length, width, r = self.length_m, self.width_m, self.corner_m
        corners = (
            ((r, r), math.pi, (0.0, width - r)),
            ((r, width - r), math.pi / 2, (length - r, width)),
            ((length - r, width - r), 0.0, (length, r)),
            ((length - r, r), -math.pi / 2, (r, 0.0)),
        )
        us, vs = [], []
        for (cu, cv), turned, (end_u, end_v) in corners:
            steps = max(1, math.ceil(r * math.pi / 2 / EDGE_M))
            angles = turned + (math.pi / 2) * (1 - np.arange(steps + 1) / steps)
            us.append(cu + r * np.cos(angles))
            vs.append(cv + r * np.sin(angles))
            straight = max(1, math.ceil(math.hypot(end_u - us[-1][-1], end_v - vs[-1][-1]) / EDGE_M))
            share = np.arange(1, straight) / straight
            us.append(us[-1][-1] + (end_u - us[-1][-1]) * share)
            vs.append(vs[-1][-1] + (end_v - vs[-1][-1]) * share)
        return np.concatenate(us), np.concatenate(vs)


def _along(sheet: Sheet) -> tuple[Array, Array]:
    """Gauss points along the length and their weights [m]."""
    r, found = sheet.corner_m, []
    if r > 0:
        count = max(2, math.ceil(r * math.pi / 2 / PANEL_M))
        step = math.pi / 2 / count
        angle = (np.add.outer(np.arange(count), np.array(_GAUSS)) * step).ravel()
        near, weight = r * (1 - np.cos(angle)), r * np.sin(angle) * step / 2
        found = [(near, weight), (sheet.length_m - near, weight)]
    straight = sheet.length_m - 2 * r
    if straight > 0:
        count = max(1, math.ceil(straight / PANEL_M))
        step = straight / count
        middle = r + (np.add.outer(np.arange(count), np.array(_GAUSS)) * step).ravel()
        found.append((middle, np.full(middle.size, step / 2)))
    return np.concatenate([u for u, _ in found]), np.concatenate([w for _, w in found])


@dataclass(frozen=True)
class Lay:
    """Where a sheet lies on the field: its middle [m], how far its length is turned from the field's [°, towards the
    field's width], and how much of the highest ground is taken off and of the lowest filled up [m]."""

    x_m: float
    y_m: float
    turn_deg: float = 0.0
    lower_m: float = 0.0
    raise_m: float = 0.0

    def on_field(self, sheet: Sheet, u_m: Array, v_m: Array) -> tuple[Array, Array]:
        """Points of the sheet on the field [m]."""
        a, b = u_m - sheet.length_m / 2, v_m - sheet.width_m / 2
        turn = math.radians(self.turn_deg)
        return (
            self.x_m + a * math.cos(turn) - b * math.sin(turn),
            self.y_m + a * math.sin(turn) + b * math.cos(turn),
        )

    def on_sheet(self, sheet: Sheet, x_m: Array, y_m: Array) -> tuple[Array, Array]:
        """Points of the field in the sheet's own metres: the other way round."""
        a, b = x_m - self.x_m, y_m - self.y_m
        turn = math.radians(self.turn_deg)
        return (
            a * math.cos(turn) + b * math.sin(turn) + sheet.length_m / 2,
            b * math.cos(turn) - a * math.sin(turn) + sheet.width_m / 2,
        )
