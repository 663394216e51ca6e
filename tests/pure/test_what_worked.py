"""The statistics of repairs, against lifelines, statsmodels, scipy and a truth that was simulated."""

import math
import random

import numpy as np
import pytest

from rinklog.survival.compare import compare, failures_needed
from rinklog.survival.kaplan_meier import Spell
from rinklog.survival.logistic import effects
from rinklog.survival.many import benjamini_hochberg, holm
from rinklog.survival.shares import wilson
from rinklog.survival.turnbull import Interval, median_stretch, survival_at, turnbull

# Breast cosmesis, radiotherapy alone (Finkelstein & Wolfe 1985, table 1; from memory, months; inf: not seen to fail).
INF = math.inf
COSMESIS = [
    (45, INF), (6, 10), (0, 7), (46, INF), (46, INF), (7, 16), (17, INF), (7, 14), (37, 44), (0, 8), (4, 11),
    (15, INF), (11, 15), (22, INF), (46, INF), (46, INF), (25, 37), (46, INF), (26, 40), (46, INF), (27, 34),
    (36, 44), (46, INF), (36, 48), (37, INF), (40, INF), (17, 25), (46, INF), (11, 18), (38, INF), (5, 12),
    (37, INF), (0, 5), (18, INF), (24, INF), (36, INF), (5, 11), (19, 35), (17, 25), (24, INF), (32, INF),
    (33, INF), (19, 26), (37, INF), (34, INF), (36, INF),
]  # fmt: skip


def test_turnbull_agrees_with_lifelines() -> None:
    from lifelines import KaplanMeierFitter

    pieces = turnbull(Interval(a, b) for a, b in COSMESIS)
    # lifelines counts the left end in, we do not: a hair to the right is the same.
    left, right = zip(*((a + 1e-7 if a else 0, b) for a, b in COSMESIS), strict=True)
    theirs = KaplanMeierFitter().fit_interval_censoring(left, right, tol=1e-9).survival_function_
    upper, lower = theirs["NPMLE_estimate_upper"], theirs["NPMLE_estimate_lower"]
    for piece in pieces:
        if math.isfinite(piece.until):
            assert piece.survival == pytest.approx(
                float(lower[lower.index <= piece.until].iloc[-1]), abs=2e-4
            )
            assert survival_at(pieces, piece.until) == pytest.approx(piece.survival)
    assert float(upper.iloc[0]) == 1.0


def test_turnbull_of_exact_and_right_censored_times_is_kaplan_meier() -> None:
    # 6-MP arm of Freireich et al. 1963: S(6) .8571, S(10) .7529, S(16) .6275, S(23) .4482 (Gehan 1965).
    failed = [6, 6, 6, 7, 10, 13, 16, 22, 23]
    censored = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
    pieces = turnbull([Interval(t, t) for t in failed] + [Interval(t, INF) for t in censored])
    found = {piece.until: piece.survival for piece in pieces}
    for time, expected in {6: 0.8571, 10: 0.7529, 16: 0.6275, 23: 0.4482}.items():
        assert found[time] == pytest.approx(expected, abs=5e-4)
    assert median_stretch(pieces) == (23, 23)


def test_nothing_failed_leaves_everything_in_infinity() -> None:
    pieces = turnbull([Interval(3, INF), Interval(9, INF)])
    assert survival_at(pieces, 100) == 1.0
    assert median_stretch(pieces) is None
    assert turnbull([]) == []
    with pytest.raises(ValueError, match="backwards"):
        turnbull([Interval(3, 2)])


@pytest.mark.parametrize("way", ["holm", "fdr_bh"])
def test_corrections_for_many_comparisons_agree_with_statsmodels(way: str) -> None:
    from statsmodels.stats.multitest import multipletests

    chance = random.Random(3)
    ours = {"holm": holm, "fdr_bh": benjamini_hochberg}[way]
    for count in (1, 2, 7, 30):
        chances = [chance.random() ** 3 for _ in range(count)] + [0.01, 0.01]
        assert ours(chances) == pytest.approx(list(multipletests(chances, method=way)[1]), abs=1e-12)
    assert ours([]) == []


def test_wilson_intervals_agree_with_statsmodels() -> None:
    from statsmodels.stats.proportion import proportion_confint

    for hits, cases in ((0, 5), (1, 9), (5, 10), (19, 20), (7, 7), (30, 400)):
        low, high = proportion_confint(hits, cases, method="wilson")
        assert wilson(hits, cases) == pytest.approx((low, high), abs=1e-7)
    with pytest.raises(ValueError, match="no share"):
        wilson(0, 0)


def test_the_logistic_model_agrees_with_statsmodels() -> None:
    import statsmodels.api as sm

    rng = np.random.default_rng(5)
    values = rng.normal([3.0, -8.0], [1.5, 4.0], size=(300, 2))
    hit = rng.random(300) < 1 / (1 + np.exp(-(-3 + 0.5 * values[:, 0] - 0.1 * values[:, 1])))
    theirs = sm.Logit(hit.astype(float), sm.add_constant(values)).fit(disp=0)
    ours = effects(["coat", "air"], values.tolist(), hit.tolist())
    assert ours is not None
    assert [one.odds_ratio for one in ours] == pytest.approx(list(np.exp(theirs.params[1:])), rel=1e-6)
    limits = np.exp(theirs.conf_int()[1:])
    assert [(one.low, one.high) for one in ours] == [pytest.approx(tuple(row), rel=1e-5) for row in limits]


def test_the_logistic_model_says_nothing_of_few_or_separated_cases() -> None:
    assert effects(["coat"], [[1.0]] * 9 + [[2.0]] * 20, [True] * 9 + [False] * 20) is None
    separated = [[float(n)] for n in range(40)]
    assert effects(["coat"], separated, [n >= 20 for n in range(40)]) is None
    assert effects(["coat"], [[1.0]] * 40, [n % 2 == 0 for n in range(40)]) is None


def test_schoenfelds_number_of_failures() -> None:
    # Schoenfeld 1981: (1.96 + 0.8416)² / (0.25 ln² 2) = 65.4 failures for a ratio of 2 at 5 % and 80 %.
    assert failures_needed(2.0, level=0.05) == pytest.approx(65.35, abs=0.05)


def test_too_few_cases_are_not_compared_and_say_how_many_more_would_do() -> None:
    few = {("bump", "a"): [Spell(3, True)] * 2, ("bump", "b"): [Spell(9, False)] * 4}
    (pair,) = compare(few)
    assert not pair.compared
    assert not pair.told
    assert pair.more >= 3
    assert compare({("bump", "a"): [Spell(1, True)]}) == []


def test_two_defects_are_one_family_of_comparisons() -> None:
    held = {"a": [9.0, 12.0, 20.0, 31.0, 40.0, 44.0], "b": [1.0, 2.0, 2.5, 3.0, 4.0, 11.0]}
    one = {("bump", method): [Spell(days, True) for days in group] for method, group in held.items()}
    alone = compare(one)[0]
    both = compare({**one, **{("crack", method): group for (_bump, method), group in one.items()}})
    assert [pair.corrected for pair in both] == [pytest.approx(2 * (alone.chance or 0.0))] * 2
