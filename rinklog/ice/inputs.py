"""Everything an estimate is made of, as plain values: zones, deeds, looks and holes. No rows, no clock.

Times are full seconds. Deeds and holes are ordered and keyed by what they say, never by an id or by when they were
written down: one that comes late, or as an amendment, is the same deed as one that came in time.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from typing import Literal
from uuid import UUID

from rinklog.ice.forcing import HOUR, Prepared
from rinklog.ice.spread import Spread

What = Literal["flood", "clear-snow", "lay-cover", "lift-cover", "torch"]
SHADE_FRAC = {"open": 0.0, "part": 0.45, "shade": 0.85}
"""Share of the sun that a zone's shade keeps off; the sky's own light gets in: common practice, no source."""


@dataclass(frozen=True)
class Ground:
    """One zone: its area [m²], the surveyed depth of water over it [m] or None, and the sun kept off [0-1]."""

    zone_id: int
    area_m2: float
    depth_m: float | None
    shade_frac: float


@dataclass(frozen=True)
class Deed:
    """Something the crew did. amounts: by place of the zone in the list of zones; water [kg/m²], heat [J/m²], or 0
    where the deed has no amount. key: what was said, for the draws of its error."""

    at: dt.datetime
    what: What
    amounts: dict[int, float]
    key: str
    water_c: float = 0.0


@dataclass(frozen=True)
class Hole:
    """A drill hole: ice [m] in one zone. `answer` is what a person said when asked: "", "right" or "mistake"."""

    at: dt.datetime
    zone: int
    ice_m: float
    key: str
    entry_id: UUID | None = None
    answer: str = ""


@dataclass(frozen=True)
class Look:
    """Somebody looked at a zone: wet or not, snow on it or not; None where that was not said."""

    at: dt.datetime
    zone: int
    key: str
    wet: bool | None = None
    snow: bool | None = None


@dataclass(frozen=True)
class Inputs:
    """One season of one rink up to now.

    start: full hour at which the march begins. stood_m: water that is taken to stand there then, by zone. begun: False
    when the ice was there before the weather was known, so that nobody knows how much.
    """

    seed: int
    grounds: tuple[Ground, ...]
    start: dt.datetime
    stood_m: tuple[float, ...]
    begun: bool
    weather: Prepared
    deeds: tuple[Deed, ...] = ()
    holes: tuple[Hole, ...] = ()
    looks: tuple[Look, ...] = ()
    spread: Spread = field(default_factory=Spread)

    @property
    def columns(self) -> int:
        """How many columns are marched: zones by members, members fastest."""
        return len(self.grounds) * self.spread.members

    def index(self, at: dt.datetime) -> int:
        """How many full hours after the start a time lies."""
        return (at - self.start) // HOUR
