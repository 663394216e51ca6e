"""Learning from being wrong: predictions as they were made, against what was seen. Pure.

What was seen is an interval: after the last look at which the coat was not frozen, not after the first at which it was.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

SHRINK = 4.0
"""A correction out of n floods counts n/(n+4): four floods half believe it. Common practice, no source."""
FACTOR_LIMITS = (0.5, 2.0)
EXACT_WITHIN_H = 0.75
"""An interval narrower than this, or than a fifth of the time itself, is a time of freezing; its middle counts."""
EXACT_SHARE = 0.2


@dataclass(frozen=True)
class Outcome:
    """One flood: what was predicted when it was made, and when it was seen; hours after the flood began.

    factor is the correction that was in the prediction. not_frozen_h is the last look at a coat that was not frozen
    (0 when nobody looked), frozen_h the first at one that was (None: nobody has said so).
    """

    low_h: float | None
    middle_h: float
    high_h: float | None
    chance: float
    deadline_h: float
    factor: float = 1.0
    not_frozen_h: float = 0.0
    frozen_h: float | None = None
    pour_h: float = 0.0  # of all these hours, how long the hose was to run; freezing alone is learned from

    @property
    def hit(self) -> bool | None:
        """Whether it was frozen by the deadline; None while what was seen does not tell."""
        if self.frozen_h is not None and self.frozen_h <= self.deadline_h:
            return True
        return False if self.not_frozen_h >= self.deadline_h else None

    @property
    def took_h(self) -> float | None:
        """Hours it took, when what was seen is close enough to tell."""
        if self.frozen_h is None:
            return None
        width = self.frozen_h - self.not_frozen_h
        close = width <= max(EXACT_WITHIN_H, EXACT_SHARE * self.frozen_h)
        return (self.frozen_h + self.not_frozen_h) / 2 if close else None

    @property
    def log_ratio(self) -> float | None:
        """Logarithm of hours taken over hours computed before any correction; None when nothing contradicts or tells.

        A look that only bounds the time counts where it contradicts the prediction, with the bound itself.
        """
        seen = self.took_h
        if seen is None and self.frozen_h is not None and self.frozen_h < self.middle_h:
            seen = self.frozen_h
        if seen is None and self.not_frozen_h > self.middle_h:
            seen = self.not_frozen_h
        if seen is None or seen <= self.pour_h or self.middle_h <= self.pour_h:
            return None
        return math.log((seen - self.pour_h) / ((self.middle_h - self.pour_h) / self.factor))


@dataclass(frozen=True)
class Score:
    """How good the advice has been: floods predicted, those that can be judged, and how they went.

    bias_h is the median of hours taken minus hours predicted, brier the mean squared error of the chance [0-1], in_band
    how many of `timed` floods fell between the 10 and 90 % of the forecasts.
    """

    floods: int
    judged: int
    hits: int
    expected_hits: float
    brier: float | None
    timed: int
    bias_h: float | None
    in_band: int

    @property
    def misses(self) -> int:
        """Floods that were not frozen by the deadline."""
        return self.judged - self.hits


def score(outcomes: Sequence[Outcome]) -> Score:
    """Judge predictions as they were made."""
    judged = [(one, one.hit) for one in outcomes if one.hit is not None]
    timed = [(one, took) for one in outcomes if (took := one.took_h) is not None]
    return Score(
        floods=len(outcomes),
        judged=len(judged),
        hits=sum(hit for _, hit in judged if hit),
        expected_hits=sum(one.chance for one, _ in judged),
        brier=sum((one.chance - float(bool(hit))) ** 2 for one, hit in judged) / len(judged)
        if judged
        else None,
        timed=len(timed),
        bias_h=median(took - one.middle_h for one, took in timed) if timed else None,
        in_band=sum((one.low_h or 0) <= took <= (one.high_h or math.inf) for one, took in timed),
    )


def correction(outcomes: Sequence[Outcome]) -> tuple[float, int]:
    """The factor on computed hours of freezing that earlier floods teach, and how many of them spoke.

    The median of the log ratios, shrunk toward none by n/(n+4), within 0.5 to 2. Each ratio is to the hours before any
    correction, so that a correction never learns from itself.
    """
    ratios = [ratio for one in outcomes if (ratio := one.log_ratio) is not None]
    if not ratios:
        return 1.0, 0
    count = len(ratios)
    factor = math.exp(median(ratios) * count / (count + SHRINK))
    return min(max(factor, FACTOR_LIMITS[0]), FACTOR_LIMITS[1]), count
