"""What a fair roster is asked for: nights to fill, people who may fill them, and the rules of the crew."""

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

Pair = tuple[str, str]
"""A worker's id and a night's id."""
WEEK = dt.timedelta(days=7)


@dataclass(frozen=True)
class Night:
    """A shift to fill: how many people, skills of which one of them has each, permissions that all of them have."""

    id: str
    starts_at: dt.datetime
    ends_at: dt.datetime
    people: int
    skills: frozenset[str] = frozenset()
    everybody: frozenset[str] = frozenset()

    @property
    def minutes(self) -> int:
        """How long it lasts [min]."""
        return round((self.ends_at - self.starts_at).total_seconds() / 60)


@dataclass(frozen=True)
class Worker:
    """Somebody of the crew: what they hold, hours so far this season, nights they can come, wishes (1, 0, -1).

    `busy` are the spans of shifts outside this roster: they count for rest and for the week, and stay as they are.
    """

    id: str
    holds: frozenset[str] = frozenset()
    minutes_so_far: int = 0
    can: frozenset[str] = frozenset()
    wishes: Mapping[str, int] = field(default_factory=dict)
    busy: tuple[tuple[dt.datetime, dt.datetime], ...] = ()


@dataclass(frozen=True)
class Rules:
    """At most so many shifts in any seven days, and so much rest between two."""

    most_a_week: int = 2
    rest: dt.timedelta = dt.timedelta(hours=20)


@dataclass(frozen=True)
class Problem:
    """One roster. Fixed pairs stay whatever the rules say; banned ones are not proposed again."""

    nights: tuple[Night, ...]
    workers: tuple[Worker, ...]
    rules: Rules = Rules()
    fixed: frozenset[Pair] = frozenset()
    banned: frozenset[Pair] = frozenset()
    # Rules left out on purpose, to find out which one stands in the way: availability, permissions, rest, week.
    without: frozenset[str] = frozenset()

    @cached_property
    def night(self) -> dict[str, Night]:
        """Nights by id."""
        return {night.id: night for night in self.nights}

    @cached_property
    def worker(self) -> dict[str, Worker]:
        """Workers by id."""
        return {worker.id: worker for worker in self.workers}

    @cached_property
    def pairs(self) -> list[Pair]:
        """Every worker and night that may come together, in a settled order."""
        return [
            (worker.id, night.id)
            for worker in self.workers
            for night in self.nights
            if (worker.id, night.id) in self.fixed or self.fits(worker, night)
        ]

    def fits(self, worker: Worker, night: Night) -> bool:
        """Whether somebody may be proposed for a night: free, allowed, rested from what they do elsewhere."""
        if (worker.id, night.id) in self.banned:
            return False
        if "availability" not in self.without and night.id not in worker.can:
            return False
        if "permissions" not in self.without and not night.everybody <= worker.holds:
            return False
        rest = dt.timedelta(0) if "rest" in self.without else self.rules.rest
        return not any(
            begins < night.ends_at + rest and night.starts_at < ends + rest for begins, ends in worker.busy
        )

    @cached_property
    def unit(self) -> int:
        """The longest span [min] of which every night is a multiple."""
        return math.gcd(*(night.minutes for night in self.nights)) or 1
