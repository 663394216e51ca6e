"""Which method held longer? Every pair compared, corrected for how many there are, and honest when it is unclear."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from statistics import NormalDist

from rinklog.survival.kaplan_meier import Spell
from rinklog.survival.log_rank import failure_rate, log_rank
from rinklog.survival.many import holm

# A little under 1 in 20: the chi-squared law is only near, and a wrong winner must stay rarer than that.
LEVEL = 0.04
POWER = 0.8
LEAST_CASES = 5  # of each method; below, no pair is compared. Common practice, no source
LEAST_FAILURES = 5  # of both together
RATIOS = (1.5, 4.0)  # differences in rate that are counted on when saying how many more cases would do


@dataclass(frozen=True)
class Pair:
    """Two methods on one defect. `better` held longer, by the rate of failing; `told` whether that can be said."""

    defect: str
    better: str
    worse: str
    ratio: float | None  # how many times as fast the worse one failed, per day held
    chi2: float | None
    chance: float | None
    corrected: float | None
    told: bool
    more: int  # further repairs of each method that would probably tell

    @property
    def compared(self) -> bool:
        """Whether there was enough to compare at all."""
        return self.corrected is not None


Groups = Mapping[tuple[str, str], Sequence[Spell]]


def compare(groups: Groups) -> list[Pair]:
    """Compare every two methods used on the same defect.

    Arguments: groups of spells by (defect, method). Returns: pairs in the order of the groups. Source: log-rank, Mantel
    1966; Holm 1979 over all pairs that were compared; cases needed, Schoenfeld 1981.
    """
    found = []
    for defect in dict.fromkeys(defect for defect, _method in groups):
        methods = [method for known, method in groups if known == defect]
        found += [_pair(defect, one, two, groups) for one, two in combinations(methods, 2)]
    tried = [pair for pair in found if pair.chance is not None]
    corrected = dict(zip(map(id, tried), holm([pair.chance or 0.0 for pair in tried]), strict=True))
    return [_corrected(pair, corrected.get(id(pair))) for pair in found]


def _pair(defect: str, one: str, two: str, groups: Groups) -> Pair:
    first, second = groups[defect, one], groups[defect, two]
    rates = [failure_rate(first), failure_rate(second)]
    better, worse = (one, two) if (rates[0] or 0.0) <= (rates[1] or 0.0) else (two, one)
    low, high = sorted(rate or 0.0 for rate in rates)
    ratio = high / low if low > 0 else None
    enough = min(len(first), len(second)) >= LEAST_CASES and _failures(first, second) >= LEAST_FAILURES
    found = log_rank(first, second) if enough else None
    return Pair(
        defect, better, worse, ratio, found and found.chi2, found and found.p, None, False,
        more_cases(first, second, ratio),
    )  # fmt: skip


def _corrected(pair: Pair, corrected: float | None) -> Pair:
    told = corrected is not None and corrected <= LEVEL
    return Pair(
        pair.defect, pair.better, pair.worse, pair.ratio, pair.chi2, pair.chance, corrected, told,
        0 if told else pair.more,
    )  # fmt: skip


def _failures(*groups: Sequence[Spell]) -> int:
    return sum(spell.failed for group in groups for spell in group)


def failures_needed(ratio: float, share: float = 0.5, level: float = LEVEL, power: float = POWER) -> float:
    """Failures that a log-rank test needs.

    Arguments: ratio of the hazards [1], share of the cases in one group [1], level (two-sided) and power [1]. Returns:
    failures of both groups together. Validity: hazards in one ratio throughout. Source: Schoenfeld 1981.
    """
    normal = NormalDist()
    reach = normal.inv_cdf(1 - level / 2) + normal.inv_cdf(power)
    return (reach / math.log(ratio)) ** 2 / (share * (1 - share))


def more_cases(first: Sequence[Spell], second: Sequence[Spell], ratio: float | None) -> int:
    """Further repairs of each method that would probably tell them apart, if the difference is as seen; at least 1.

    Arguments: first, second spells; ratio of their rates, taken between 1.5 and 4. Returns: repairs of each.
    """
    low, high = RATIOS
    counted = min(max(ratio or high, low), high)
    cases, failures = len(first) + len(second), _failures(first, second)
    failing = max(failures, 1) / max(cases, 2)
    wanted = failures_needed(counted) - failures
    by_failures = math.ceil(max(0.0, wanted) / failing / 2)
    by_cases = LEAST_CASES - min(len(first), len(second))
    return max(1, by_failures, by_cases)
