"""How long repairs held: the Kaplan-Meier estimate with Greenwood's error.

Written out here because lifelines takes seconds to import; lifelines and scipy are the oracles of the tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby


@dataclass(frozen=True)
class Spell:
    """How long one thing held [any one unit of time], and whether it then failed or still held (censored)."""

    held: float
    failed: bool


@dataclass(frozen=True)
class Step:
    """The estimate from one failure time on, with its band (log-log)."""

    time: float
    at_risk: int
    failed: int
    survival: float
    standard_error: float
    low: float
    high: float


def kaplan_meier(spells: Iterable[Spell], z: float = 1.959964) -> list[Step]:
    """One step a failure time; spells censored at that very time still count as at risk.

    Arguments: spells, z of the band [1, 1.96 for 95 %]. Returns: steps in order. Errors: ValueError for a
    spell that is negative or not finite. Validity: censoring must not depend on the defect. Source: Kaplan &
    Meier 1958; Greenwood 1926; log-log band, Kalbfleisch & Prentice 1980.
    """
    ordered = sorted(spells, key=lambda spell: spell.held)
    for spell in ordered:
        if not (math.isfinite(spell.held) and spell.held >= 0):
            raise ValueError(f"held is {spell.held:g}; permitted: at least 0.")
    steps: list[Step] = []
    survival, greenwood, at_risk = 1.0, 0.0, len(ordered)
    for time, together in groupby(ordered, key=lambda spell: spell.held):
        here = list(together)
        failed = sum(spell.failed for spell in here)
        if failed:
            survival *= 1 - failed / at_risk
            greenwood += failed / (at_risk * (at_risk - failed)) if failed < at_risk else math.inf
            steps.append(_step(time, at_risk, failed, survival, greenwood, z))
        at_risk -= len(here)
    return steps


def median(steps: Iterable[Step]) -> float | None:
    """First time at which at most half still hold; None when it is never reached.

    Arguments: steps of kaplan_meier. Returns: time, or None. Source: Kaplan & Meier 1958.
    """
    return next((step.time for step in steps if step.survival <= 0.5 + 1e-12), None)


def _step(time: float, at_risk: int, failed: int, survival: float, greenwood: float, z: float) -> Step:
    if survival <= 0:
        return Step(time, at_risk, failed, 0.0, 0.0, 0.0, 0.0)
    error = survival * math.sqrt(greenwood)
    spread = z * math.sqrt(greenwood) / abs(math.log(survival))
    low, high = survival ** math.exp(spread), survival ** math.exp(-spread)
    return Step(time, at_risk, failed, survival, error, low, high)
