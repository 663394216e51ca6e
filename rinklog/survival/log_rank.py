"""Did one kind of repair hold longer than another?"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from rinklog.survival.kaplan_meier import Spell


class LogRank(NamedTuple):
    """Chi-squared with one degree of freedom, and its chance if both held alike."""

    chi2: float
    p: float


def log_rank(first: Sequence[Spell], second: Sequence[Spell]) -> LogRank | None:
    """Compare two groups over all their failure times.

    Arguments: first, second spells. Returns: LogRank; None when a group is empty or nothing can be compared.
    Validity: about five failures a group at least. Source: Mantel 1966, hypergeometric variance.
    """
    excess = variance = 0.0
    held = [sorted(s.held for s in group) for group in (first, second)]
    failures = [Counter(s.held for s in group if s.failed) for group in (first, second)]
    for time in sorted(failures[0] | failures[1]):
        risk_1, risk_2 = (len(times) - bisect_left(times, time) for times in held)
        failed_1, failed_2 = (failed[time] for failed in failures)
        risk, failed = risk_1 + risk_2, failed_1 + failed_2
        excess += failed_1 - failed * risk_1 / risk
        if risk > 1:
            variance += failed * (risk_1 / risk) * (risk_2 / risk) * (risk - failed) / (risk - 1)
    if variance <= 0:
        return None
    chi2 = excess**2 / variance
    return LogRank(chi2, math.erfc(math.sqrt(chi2 / 2)))


def failure_rate(spells: Sequence[Spell]) -> float | None:
    """Failures per unit of time held, if they come at a steady rate.

    Arguments: spells. Returns: [1/time], or None when no time was held. Validity: steady hazard.
    Source: maximum likelihood, failures over total time.
    """
    total = sum(spell.held for spell in spells)
    return sum(spell.failed for spell in spells) / total if total > 0 else None
