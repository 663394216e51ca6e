"""How unsure the estimate is of everything it does not measure, and the members that carry it.

Every size stands here with its source. A member's error of an hour depends on the season's seed and on that hour alone,
so a march that is taken up again, or that hears of a flood late, meets the same errors.
"""

from __future__ import annotations

import datetime as dt
import hashlib
from dataclasses import dataclass, field

import numpy as np

from rinklog.physics.column.state import Floats
from rinklog.physics.windows import ForecastError

MEMBERS = 50
PATHS = ("air", "wind", "cloud", "humidity", "fall")
"""What has an error of its own in every hour; `fall` is precipitation."""


@dataclass(frozen=True)
class HourError:
    """Standard error of one hour's weather at the rink: air [K], wind and precipitation as logarithms, shares [0-1]."""

    air_k: float
    wind_log: float
    cloud_frac: float
    humidity_frac: float
    fall_log: float


OBSERVED = HourError(air_k=0.5, wind_log=0.25, cloud_frac=0.15, humidity_frac=0.03, fall_log=0.3)
"""A station stands elsewhere: from memory, of the size by which sites a few km apart differ."""
BRIDGED = HourError(air_k=4.0, wind_log=0.5, cloud_frac=0.35, humidity_frac=0.10, fall_log=0.7)
"""Where nothing is known: about the spread of weather itself from day to day, from memory."""


@dataclass(frozen=True)
class Spread:
    """All sizes of the ensemble. `none()` leaves one march, fifty times over."""

    members: int = MEMBERS
    observed: HourError = OBSERVED
    bridged: HourError = BRIDGED
    forecast: ForecastError = field(default_factory=ForecastError)
    forecast_fall_log: float = 0.5
    exchange_log: float = 0.25
    """Transfer coefficients over ice run from 1.2 to 2.0e-3 (from memory), and boards and trees shelter."""
    sunlight_log: float = 0.15
    """Clean ice keeps 50 to 70 % of the sun (albedo 0.3-0.5, from memory)."""
    zone_log: float = 0.08
    """By how much the factors of one zone differ from the rink's: common practice, no source."""
    depth_log: float = 0.12
    """The surveyed depth of a zone, and how far it was filled: common practice, no source."""
    flood_log: float = 0.15
    """Water of a flood as a whole: a meter is better, minutes at a hose worse; common practice, no source."""
    uneven_log: float = 0.15
    """How unevenly a hose spreads it over zones: common practice, no source."""
    hole_m: float = 0.004
    hole_uneven_frac: float = 0.04
    """A drill hole: reading a rule on a rough edge, and the ice of a zone that is not of one thickness."""
    elsewhere_frac: float = 0.12
    elsewhere_m: float = 0.004
    """How much more a hole in another zone may differ: floods and factors of zones differ by as much."""

    @classmethod
    def none(cls, members: int = MEMBERS) -> Spread:
        """No errors at all: every member is the plain march."""
        zero = HourError(0, 0, 0, 0, 0)
        sure = ForecastError(0, 0, 0, 0, 0, 0, 0)
        return cls(members, zero, zero, sure, 0, 0, 0, 0, 0, 0, 0)


def seed_of(*parts: object) -> int:
    """A seed out of what people know of a season: the same inputs have the same errors on every site."""
    words = "|".join(str(part) for part in parts)
    return int.from_bytes(hashlib.sha256(words.encode()).digest()[:8], "big")


def draws(seed: int, *about: object, size: tuple[int, ...]) -> Floats:
    """Standard normal numbers that depend on the seed and on what they are about, and on nothing else."""
    generator = np.random.default_rng(seed_of(seed, *about))
    return np.asarray(generator.standard_normal(size))


@dataclass(frozen=True)
class Paths:
    """Unit errors of every hour from `start` on: arrays (hours, members); member 0 has none."""

    start: dt.datetime
    values: dict[str, Floats]

    def between(self, first: int, last: int) -> dict[str, Floats]:
        """The rows of some hours."""
        return {name: path[first:last] for name, path in self.values.items()}


def paths(seed: int, start: dt.datetime, hours: int, spread: Spread) -> Paths:
    """First-order autoregression of unit variance, as `physics.windows.ensemble`, but the same from whatever hour on.

    Arguments: seed, start of the march, hours, spread (members, correlation). Returns: Paths. Validity: an hour's value
    depends on the seed and on how many hours it lies after the start, not on how many hours are asked for.
    """
    kept = np.exp(-1.0 / spread.forecast.correlation_h)
    shape = (hours, len(PATHS), spread.members)
    noise = np.asarray(np.random.default_rng(seed).standard_normal(shape)) if hours else np.zeros(shape)
    fresh = np.sqrt(1 - kept**2)
    for at in range(1, hours):
        noise[at] = kept * noise[at - 1] + fresh * noise[at]
    noise[:, :, 0] = 0.0
    return Paths(start, {name: noise[:, at] for at, name in enumerate(PATHS)})
