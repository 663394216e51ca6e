"""What one piece of demo work is, before it goes through the services."""

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID, uuid5

from rinklog.rink.models import Zone

NAMESPACE = UUID("6f0a2f0e-58d4-4a52-9f0c-3d1f1b5a7c11")


def demo_id(rink_id: UUID, name: str) -> UUID:
    """The id of one invented thing on one rink: the same name is the same thing."""
    return uuid5(uuid5(NAMESPACE, str(rink_id)), name)


@dataclass(frozen=True)
class Job:
    """One piece of work. `day` counts from today (0, -1, …); `people` are minutes by login."""

    name: str
    kind: str
    day: int
    hour: int
    minute: int
    people: dict[str, int]
    zones: str = "all"
    coat_mm: float = 0.0
    details: dict[str, Any] = field(default_factory=dict)
    conditions: dict[str, str] = field(default_factory=dict)
    hazards: tuple[str, ...] = ()
    holding: dict[str, str] = field(default_factory=dict)
    note: str = ""
    lesson: bool = False
    events: tuple[tuple[str, int], ...] = ()  # (what, minutes after the end)
    result: str = ""  # what lifting the cover showed
    hours_ago: float | None = None  # counted from now instead of by day and hour
    mended: str = ""  # why it was amended a little later, with ten minutes more
    withdrawn: str = ""  # why it was withdrawn


def pick(spec: str, zones: list[Zone]) -> list[Zone]:
    """The zones that a spec names: all, boards, near, far, or labels such as "A1 B2"."""
    last_row, last_column = max(z.row for z in zones), max(z.column for z in zones)
    known: dict[str, Callable[[Zone], bool]] = {
        "all": lambda z: True,
        "none": lambda z: False,
        "near": lambda z: z.row <= last_row // 2,
        "far": lambda z: z.row > last_row // 2,
        "boards": lambda z: z.row in (0, last_row) or z.column in (0, last_column),
        "low": lambda z: z.low_spot,
    }
    if spec in known:
        return [zone for zone in zones if known[spec](zone)]
    return [zone for zone in zones if zone.label in spec.split()]


class Roster:
    """Who turns up: the same few a little too often, as everywhere."""

    def __init__(self, seed: str) -> None:
        self.random = random.Random(seed)
        self.often = ("odo", "tilde", "miko", "jorun")
        self.seldom = ("bas", "siw", "ante", "runa")

    def some(self, count: int, minutes: int) -> dict[str, int]:
        """`count` people with about `minutes` each."""
        logins = list(self.often * 2 + self.seldom)
        people: dict[str, int] = {}
        while len(people) < count:
            people[self.random.choice(logins)] = minutes + 5 * self.random.randrange(-2, 3)
        return people
