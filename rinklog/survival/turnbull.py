"""How long repairs held when failures were only seen at inspections: the estimate of Turnbull.

A failure lies somewhere after the last time it was seen good and not after the time it was seen bad. No band comes with
it: the midpoint estimate beside it has one. lifelines is the oracle of the tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

MOST_ROUNDS = 10_000
CLOSE = 1e-9


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
    holds = [[_within(stretch, one) for stretch in stretches] for one in known]
    masses = _consistent(holds, len(stretches))
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


def _within(stretch: tuple[float, float], one: Interval) -> bool:
    after, until = stretch
    if after == until:  # an exact time: an interval that begins there does not hold it
        return one.after < until <= one.until or one.after == one.until == until
    return one.after <= after and until <= one.until


def _consistent(holds: list[list[bool]], count: int) -> list[float]:
    """Share every interval out over its stretches by their present masses, until nothing moves."""
    masses = [1.0 / count] * count
    rows = [[place for place, inside in enumerate(row) if inside] for row in holds]
    for _round in range(MOST_ROUNDS):
        fresh = [0.0] * count
        for places in rows:
            whole = sum(masses[place] for place in places)
            for place in places:
                fresh[place] += masses[place] / whole / len(rows)
        moved = max(abs(new - old) for new, old in zip(fresh, masses, strict=True))
        masses = fresh
        if moved < CLOSE:
            break
    return masses


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
