"""When the forecast has turned against a shift: what the chance was and is, how cold it will be. A person decides."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rinklog.plan.rules.conditions import SNOW_FALLS_MM, HourSeen

LIKELY = 0.5
"""A window less likely than this is in question. Common practice, no source."""
FELL_BY = 0.2
"""And only if it fell by this much since the shift was made or kept. Common practice, no source."""


@dataclass(frozen=True)
class Question:
    """Why a shift is in question: "chance" (with what it was), "too-warm", or "snow"."""

    key: str
    found: float
    was: float

    def as_json(self) -> dict[str, Any]:
        """For the database; a chance keeps its own name, since keeping the shift makes it the new measure."""
        return {"key": self.key, "found": self.found, "was": self.was} | (
            {"chance": self.found} if self.key == "chance" else {}
        )


def chance_turned(was: float, now: float) -> Question | None:
    """Whether a window's chance has fallen so far that a person should look. Arguments: chances 0-1."""
    return Question("chance", now, was) if now < LIKELY and was - now >= FELL_BY else None


def weather_turned(hours: Sequence[HourSeen], warmest_c: float) -> Question | None:
    """Whether ice work without a window is in question: never cold enough in its hours, or snow in all of them.

    Arguments: hours of the shift, warmest_c the rink's limit for flooding [°C].
    """
    air = [hour.air_c for hour in hours if hour.air_c is not None]
    if air and min(air) > warmest_c:
        return Question("too-warm", min(air), warmest_c)
    falls = [hour.precip_mm for hour in hours if hour.precip_mm is not None]
    if falls and min(falls) > SNOW_FALLS_MM:
        return Question("snow", min(falls), 0.0)
    return None
