"""Surveyed ground: a grid of heights over a rectangle, and the height between its points."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Ground:
    """Heights [m], rows along the length of the surveyed field, values across it; the field's size [m]."""

    levels_m: tuple[tuple[float, ...], ...]
    length_m: float
    width_m: float

    @cached_property
    def levels(self) -> Array:
        """The heights as an array."""
        return np.asarray(self.levels_m, dtype=float)

    @cached_property
    def xs(self) -> Array:
        """Where the rows lie along the length [m]."""
        return np.linspace(0.0, self.length_m, len(self.levels_m))

    @cached_property
    def ys(self) -> Array:
        """Where the values of a row lie across the width [m]."""
        return np.linspace(0.0, self.width_m, len(self.levels_m[0]))

    def heights(self, x_m: Array, y_m: Array) -> Array:
        """Height of the ground, bilinear between the surveyed points; beyond the edge that of the edge.

        Arguments: x_m along the length, y_m across [m]. Returns: [m]. Validity: within the surveyed field; what lies
        between two points was not measured. Source: bilinear interpolation.
        """
        i, s = _cell(np.asarray(x_m, dtype=float), self.length_m, len(self.xs))
        j, t = _cell(np.asarray(y_m, dtype=float), self.width_m, len(self.ys))
        z = self.levels
        low = z[i, j] * (1 - t) + z[i, j + 1] * t
        high = z[i + 1, j] * (1 - t) + z[i + 1, j + 1] * t
        return low * (1 - s) + high * s

    @property
    def nodes(self) -> tuple[Array, Array, Array]:
        """Every surveyed point: x, y and height [m], each in one row."""
        x, y = np.meshgrid(self.xs, self.ys, indexing="ij")
        return x.ravel(), y.ravel(), self.levels.ravel()


def _cell(at: Array, size_m: float, count: int) -> tuple[NDArray[np.intp], Array]:
    """The cell a place falls in, and how far into it (0-1)."""
    steps = np.clip(at / size_m, 0.0, 1.0) * (count - 1)
    cell = np.minimum(steps.astype(np.intp), count - 2)
    return cell, steps - cell
