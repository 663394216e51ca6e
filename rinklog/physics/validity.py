"""Refuse values outside the range a formula was made for, in one clear sentence."""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Num: TypeAlias = float | NDArray[np.float64]
"""A float, or an array whose axes are zones, ensemble members or hours."""


class OutOfRangeError(ValueError):
    """A value outside its permitted range; carries the parts so that a caller can word it anew."""

    def __init__(self, name: str, value: float, low: float, high: float, unit: str = "") -> None:
        self.name, self.value, self.low, self.high, self.unit = name, value, low, high, unit
        super().__init__(f"{name} is {value:g}; permitted: {span(low, high, unit)}.")


class NotApplicableError(ValueError):
    """A published rule asked for where it does not hold; the message is the reason."""


def bare(values: NDArray[np.float64]) -> Num:
    """An array as it is, or the number in it when it has no axes. Arguments: values. Returns: Num."""
    number: Num = values[()]
    return number


def span(low: float, high: float, unit: str = "") -> str:
    """Word a range: "0 to 80 K", "at least 0 m", "at most 10 m" or "any finite number".

    Arguments: low, high [any unit, may be infinite]; unit. Returns: text.
    """
    tail = f" {unit}" if unit and unit != "1" else ""
    if math.isinf(low) and math.isinf(high):
        return f"any finite number{tail}"
    if math.isinf(high):
        return f"at least {low:g}{tail}"
    if math.isinf(low):
        return f"at most {high:g}{tail}"
    return f"{low:g} to {high:g}{tail}"


def require(name: str, value: Num, low: float, high: float, unit: str = "") -> None:
    """Raise OutOfRangeError unless every element is finite and within low..high (ends included).

    Arguments: name of the argument; value [unit]; low, high [unit]. Errors: OutOfRangeError with the first
    bad value.
    """
    if isinstance(value, (int, float)):
        if not (low <= value <= high) or math.isinf(value):
            raise OutOfRangeError(name, float(value), low, high, unit)
        return
    values = np.asarray(value, dtype=float)
    good = (values >= low) & (values <= high) & np.isfinite(values)
    if not good.all():
        raise OutOfRangeError(name, float(values[~good].flat[0]), low, high, unit)
