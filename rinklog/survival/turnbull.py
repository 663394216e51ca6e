"""How long repairs held when failures were only seen at inspections: the estimate of Turnbull.

A failure lies somewhere after the last time it was seen good and not after the time it was seen bad. No band comes with
it: the midpoint estimate beside it has one. lifelines is the oracle of the tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

Array = np.ndarray[Any, Any]
MOST_ROUNDS = 10_000
CLOSE = 1e-6  # of the log-likelihood per interval


@dataclass(frozen=True)
class Interval:
    """Failed after `after` and not after `until` [any one unit of time]; `until` infinite: still held then."""

    after: float
    until: float


@dataclass(frozen=True)
class Piece:
    """A stretch in which failures lie, how much of them, and how many still hold at its end."""

    after: float
    until: float
    mass: float
    survival: float


def turnbull(intervals: Iterable[Interval]) -> list[Piece]:
    """The non-parametric maximum likelihood estimate from interval-censored times.

    Arguments: intervals, 0 <= after <= until. Returns: pieces in order, masses adding up to 1 with whatever lies in
    infinity. Errors: ValueError for an interval that runs backwards or is not a number. Validity: inspections must not
    be chosen by how the repair looks from afar. Source: Turnbull 1976, self-consistency; Peto 1973, the stretches.
    """
    known = list(intervals)
    for one in known:
        if not 0 <= one.after <= one.until or math.isinf(one.after):
            raise ValueError(f"the interval {one.after:g} to {one.until:g} runs backwards")
    if not known:
        return []
    stretches = _stretches(known)
    masses = _likeliest(*_spans(known, stretches), len(stretches))
    pieces, left = [], 1.0
    for (after, until), mass in zip(stretches, masses, strict=True):
        left = max(0.0, left - mass)
        pieces.append(Piece(after, until, mass, 0.0 if left < CLOSE else left))
    return pieces


def _stretches(known: Sequence[Interval]) -> list[tuple[float, float]]:
    """Stretches from a left end to the next right end with no other left end between: only there can mass lie.

    A failure lies in (after, until]; one at an exact time in [until, until].
    """
    ends = [(one.until, 1, 0) if one.after < one.until else (one.until, 0, 0) for one in known]
    marks = sorted(
        {(one.after, 2, 1) if one.after < one.until else (one.after, -1, 1) for one in known} | set(ends)
    )
    found, last = [], None
    for time, _order, is_left in marks:
        if is_left:
            last = time
        elif last is not None:
            found.append((last, time))
            last = None
    return found


def _spans(known: Sequence[Interval], stretches: list[tuple[float, float]]) -> tuple[Array, Array]:
    """First and last stretch inside every interval: what lies inside is one run, and never empty.

    A stretch of one moment is an exact time: an interval that begins there does not hold it.
    """
    starts, ends = np.array(stretches).T
    after = np.array([one.after for one in known])
    until = np.array([one.until for one in known])
    first = np.searchsorted(starts, after, side="left")
    moment = np.minimum(first, len(starts) - 1)
    begins_there = (starts[moment] == after) & (ends[moment] == after) & (after < until)
    return first + begins_there, np.searchsorted(ends, until, side="right") - 1


def _likeliest(first: Array, last: Array, count: int) -> list[float]:
    """Masses of the stretches: rounds of self-consistency, hurried by extrapolation.

    It ends when no mass anywhere could raise the log-likelihood per interval by more than CLOSE (Gentleman & Geyer 1994).
    """
    masses = np.full(count, 1.0 / count)
    slope, told = _slope(masses, first, last)
    for _round in range(MOST_ROUNDS):
        if slope.max() <= 1 + CLOSE:
            break
        once = masses * slope
        twice = once * _slope(once, first, last)[0]
        masses = _further(masses, once, twice)
        before, (slope, told) = told, _slope(masses, first, last)
        if told < before:
            masses = twice
            slope, told = _slope(masses, first, last)
    return [float(mass) for mass in masses / masses.sum()]


def _slope(masses: Array, first: Array, last: Array) -> tuple[Array, float]:
    """How the log-likelihood per interval grows with each mass, and the log-likelihood itself."""
    below = np.concatenate(([0.0], np.cumsum(masses)))
    inside = below[last + 1] - below[first]
    weight = 1.0 / inside / len(first)
    count = len(masses) + 1
    steps = np.bincount(first, weight, count) - np.bincount(last + 1, weight, count)
    return np.cumsum(steps)[:-1], float(np.log(inside).mean())


def _further(start: Array, once: Array, twice: Array) -> Array:
    """Where two rounds in a row lead to (squared extrapolation, Varadhan & Roland 2008); never to nothing at all."""
    step, bend = once - start, twice - 2 * once + start
    size = float(np.linalg.norm(bend))
    if size < 1e-15:
        return twice
    reach = max(1.0, float(np.linalg.norm(step)) / size)
    ahead = np.maximum(start + 2 * reach * step + reach**2 * bend, twice * 1e-3)
    return ahead / ahead.sum()


def survival_at(pieces: Sequence[Piece], time: float) -> float:
    """Share that still holds at a time; within a stretch a straight line, since nobody knows where in it.

    Arguments: pieces of turnbull, time. Returns: [1].
    """
    holding = 1.0
    for piece in pieces:
        if time >= piece.until:
            holding = piece.survival
        elif time > piece.after and math.isfinite(piece.until):
            return holding - piece.mass * (time - piece.after) / (piece.until - piece.after)
    return holding


def median_stretch(pieces: Sequence[Piece]) -> tuple[float, float] | None:
    """The stretch in which half of them have failed; None when that is never reached.

    Arguments: pieces. Returns: (after, until).
    """
    for piece in pieces:
        if piece.survival <= 0.5 + CLOSE and math.isfinite(piece.until):
            return piece.after, piece.until
    return None
