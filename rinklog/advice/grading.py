"""A grade for the ice by stated criteria, out of the last inspection: a proposal, for a person to judge."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

# Naperville Park District IL, Maintenance guidelines (2023 plan): excellent under 10 % flawed, no snow, 10 cm; good 10
# to 50 %; fair over 50 % or snow. Poor and none are for the eye.
EXCELLENT, GOOD, FAIR = range(3)
EXCELLENT_BELOW, GOOD_UP_TO = 0.10, 0.50
EXCELLENT_ICE_M = 0.10
FLAWED = ("rough", "worn", "cracked", "shell-ice", "thin")
SNOWED = "snow"
SHUT = ("wet", "thin")  # a zone like that speaks for closing, whatever the rest is like


def grade(flawed_frac: float, *, snow: bool, thinnest_m: float | None) -> int:
    """The place of a grade in the published list, the best first.

    Arguments: flawed_frac [0-1] of the ice, whether snow lies on it, thinnest_m of the last holes [m] or None.
    Validity: ice that nobody drilled is never called excellent.
    """
    if snow or flawed_frac > GOOD_UP_TO:
        return FAIR
    thick = thinnest_m is not None and thinnest_m >= EXCELLENT_ICE_M
    return EXCELLENT if flawed_frac < EXCELLENT_BELOW and thick else GOOD


@dataclass(frozen=True)
class Look:
    """What an inspection found: the area [m²] by condition, when, and the thinnest of the last holes [m]."""

    at: dt.datetime
    area_m2: Mapping[str, float]
    thinnest_m: float | None = None

    @property
    def flawed_frac(self) -> float:
        """Share of the area looked at that is flawed [0-1]."""
        whole = sum(self.area_m2.values())
        return sum(self.area_m2.get(one, 0.0) for one in FLAWED) / whole if whole else 0.0

    @property
    def snow(self) -> bool:
        """Whether snow lies anywhere."""
        return self.area_m2.get(SNOWED, 0.0) > 0

    @property
    def shut(self) -> bool:
        """Whether a zone was found wet, thin or soft."""
        return any(self.area_m2.get(one, 0.0) > 0 for one in SHUT)

    @property
    def grade(self) -> int:
        """Its grade."""
        return grade(self.flawed_frac, snow=self.snow, thinnest_m=self.thinnest_m)
