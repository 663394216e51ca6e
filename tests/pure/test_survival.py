"""How long repairs held: Freireich 1963 data by Gehan 1965, lifelines and scipy as oracles."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st
from lifelines import KaplanMeierFitter
from lifelines.statistics import logrank_test

from rinklog.survival.kaplan_meier import Spell, kaplan_meier, median
from rinklog.survival.log_rank import failure_rate, log_rank

SIX_MP = "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+"
PLACEBO = "1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23"
SPELLS = st.lists(st.tuples(st.integers(1, 30), st.booleans()), min_size=2, max_size=40)


def _spells(text: str) -> list[Spell]:
    return [Spell(float(word.rstrip("+")), not word.endswith("+")) for word in text.split()]


@pytest.mark.parametrize(
    ("weeks", "survival", "error"),
    [(6, 0.8571, 0.0764), (10, 0.7529, 0.0963), (16, 0.6275, 0.1141), (23, 0.4482, 0.1346)],
)
def test_the_textbook_table_of_6_mp(weeks: float, survival: float, error: float) -> None:
    # Textbook values from memory, identical in lifelines, scipy and by hand; 5e-4.
    step = next(s for s in kaplan_meier(_spells(SIX_MP)) if s.time == weeks)
    assert step.survival == pytest.approx(survival, abs=5e-4)
    assert step.standard_error == pytest.approx(error, abs=5e-4)


def test_the_placebo_group_and_both_medians() -> None:
    placebo = {s.time: s.survival for s in kaplan_meier(_spells(PLACEBO))}
    assert placebo[1] == pytest.approx(0.9048, abs=5e-4)
    assert placebo[8] == pytest.approx(0.381, abs=5e-4)
    assert median(kaplan_meier(_spells(SIX_MP))) == 23
    assert median(kaplan_meier(_spells(PLACEBO))) == 8


def test_the_log_rank_test_of_both() -> None:
    # lifelines and scipy: chi2 16.793, p 4.17e-5.
    found = log_rank(_spells(SIX_MP), _spells(PLACEBO))
    assert found is not None
    assert found.chi2 == pytest.approx(16.793, abs=5e-4)
    assert found.p == pytest.approx(4.17e-5, rel=5e-3)


def test_exponential_rates_of_both_groups() -> None:
    # 9/359 and 21/182 a week.
    assert failure_rate(_spells(SIX_MP)) == pytest.approx(0.02507, abs=5e-6)
    assert failure_rate(_spells(PLACEBO)) == pytest.approx(0.11538, abs=5e-6)


@settings(max_examples=60, deadline=None)
@given(SPELLS)
def test_the_estimate_and_its_band_agree_with_lifelines(rows: list[tuple[int, bool]]) -> None:
    steps = kaplan_meier(Spell(held, failed) for held, failed in rows)
    held, failed = zip(*rows, strict=True)
    fitter = KaplanMeierFitter().fit(held, failed)
    for step in steps:
        assert step.survival == pytest.approx(float(fitter.predict(step.time)), abs=1e-9)
        low, high = fitter.confidence_interval_.loc[step.time]
        if 0 < step.survival < 1:
            assert (step.low, step.high) == pytest.approx((low, high), abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(SPELLS)
def test_the_estimate_agrees_with_scipy(rows: list[tuple[int, bool]]) -> None:
    failures = [float(h) for h, f in rows if f]
    if not failures:
        assert kaplan_meier(Spell(h, f) for h, f in rows) == []
        return
    data = scipy.stats.CensoredData(uncensored=failures, right=[float(h) for h, f in rows if not f])
    curve = scipy.stats.ecdf(data).sf
    for step in kaplan_meier(Spell(h, f) for h, f in rows):
        assert step.survival == pytest.approx(float(curve.evaluate(step.time)), abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(SPELLS, SPELLS)
def test_the_log_rank_test_agrees_with_lifelines(
    first: list[tuple[int, bool]], second: list[tuple[int, bool]]
) -> None:
    found = log_rank([Spell(h, f) for h, f in first], [Spell(h, f) for h, f in second])
    if found is None:
        return
    columns = [np.array(c) for rows in (first, second) for c in zip(*rows, strict=True)]
    theirs = logrank_test(columns[0], columns[2], columns[1], columns[3])
    assert found.chi2 == pytest.approx(theirs.test_statistic, rel=1e-6, abs=1e-9)
    assert found.p == pytest.approx(theirs.p_value, rel=1e-6, abs=1e-12)


def test_nothing_failed_has_no_median_and_nothing_to_compare() -> None:
    held = [Spell(5, False), Spell(9, False)]
    assert median(kaplan_meier(held)) is None
    assert log_rank(held, held) is None


def test_a_negative_spell_is_refused() -> None:
    with pytest.raises(ValueError, match="held is -1"):
        kaplan_meier([Spell(-1, True)])
