"""Measuring two ways of doing the same, alternately in one run, so that a busy machine is busy for both."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median

Side = Callable[[], object]


@dataclass(frozen=True)
class Row:
    """One comparison as `bench` prints it."""

    name: str
    ours: float | None
    against: float | None
    unit: str
    ratio: float | None
    limit: str
    holds: bool
    note: str = ""


COMPARISONS: dict[str, Callable[[], Row]] = {}


def comparison(name: str) -> Callable[[Callable[[], Row]], Callable[[], Row]]:
    """Enter a function as the comparison of that name."""

    def enter(function: Callable[[], Row]) -> Callable[[], Row]:
        assert name not in COMPARISONS, name
        COMPARISONS[name] = function
        return function

    return enter


def seconds(side: Side) -> float:
    """How long one call takes."""
    began = time.perf_counter()
    side()
    return time.perf_counter() - began


def alternate(ours: Side, against: Side, *, rounds: int, warm: int = 2) -> tuple[float, float]:
    """Call both sides in turn, and return the median seconds of each; who goes first changes every round."""
    for _ in range(warm):
        ours()
        against()
    taken: dict[Side, list[float]] = {ours: [], against: []}
    for turn in range(rounds):
        for side in (ours, against) if turn % 2 else (against, ours):
            taken[side].append(seconds(side))
    return median(taken[ours]), median(taken[against])


def at_most(
    name: str, ours: float, against: float, *, times: float, unit: str, also: bool = True, note: str = ""
) -> Row:
    """The row of a comparison where ours may be at most `times` the other; `also` is any further condition."""
    ratio = ours / against if against else float("inf")
    return Row(name, ours, against, unit, ratio, f"at most {times:g}", ratio <= times and also, note)


def at_least(
    name: str, ours: float, against: float, *, times: float, unit: str, also: bool = True, note: str = ""
) -> Row:
    """The row of a comparison where ours must be at least `times` the other; `also` is any further condition."""
    ratio = ours / against if against else float("inf")
    return Row(name, ours, against, unit, ratio, f"at least {times:g}", ratio >= times and also, note)


def missing(name: str, note: str) -> Row:
    """The row of a comparison whose parts are not there: it says so and does not hold."""
    return Row(name, None, None, "", None, "", False, note)
