"""Scores and the learned correction, against values worked out by hand."""

import math
from dataclasses import replace

import pytest

from rinklog.advice.learning import Outcome, correction, score

# Predicted 4 h (3 to 6), to be frozen within 12 h with a chance of 0.9.
MADE = Outcome(low_h=3.0, middle_h=4.0, high_h=6.0, chance=0.9, deadline_h=12.0)


def took(hours: float, **more: float) -> Outcome:
    """A flood that was looked at just before it was frozen."""
    return replace(MADE, not_frozen_h=hours - 0.1, frozen_h=hours + 0.1, **more)


def test_hits_and_misses_are_judged_by_the_deadline_and_only_when_somebody_saw_it() -> None:
    morning = replace(MADE, frozen_h=11.0)  # found frozen at the boards: in time, though nobody knows when
    wet = replace(MADE, not_frozen_h=12.5)
    unseen = MADE
    late_look = replace(MADE, frozen_h=20.0)  # frozen when looked at, but was it in time?
    assert [one.hit for one in (morning, wet, unseen, late_look)] == [True, False, None, None]
    said = score([morning, wet, unseen, late_look])
    assert (said.floods, said.judged, said.hits, said.misses) == (4, 2, 1, 1)
    assert said.expected_hits == pytest.approx(1.8)
    # (0.9 − 1)² = 0.01 and (0.9 − 0)² = 0.81
    assert said.brier == pytest.approx(0.41)


def test_bias_is_in_hours_and_only_of_floods_whose_time_is_known() -> None:
    said = score([took(5.0), took(6.5), took(4.5), replace(MADE, frozen_h=11.0)])
    assert said.timed == 3
    assert said.bias_h == pytest.approx(1.0)  # of 1.0, 2.5 and 0.5
    assert said.in_band == 2  # 6.5 h is past the 6 h of nine forecasts in ten


def test_what_is_learned_is_the_freezing_and_not_how_long_the_hose_ran() -> None:
    # Of 4 h predicted the hose runs 2; of 5 h taken too. The freezing took 3 in place of 2: (3/2) ** (1/5) for one flood.
    made = took(5.0, pour_h=2.0)
    assert correction([made]) == (pytest.approx(1.5**0.2), 1)
    assert correction([took(2.0, pour_h=2.0)]) == (
        1.0,
        0,
    )  # frozen while the hose still ran: nothing can be told


def test_the_correction_is_the_shrunken_median_ratio() -> None:
    assert correction([]) == (1.0, 0)
    assert correction([took(4.0)] * 5) == (pytest.approx(1.0), 5)
    # ratios 1.5, 1.5, 1.5, 1.5: half believed, √1.5
    factor, count = correction([took(6.0)] * 4)
    assert (factor, count) == (pytest.approx(math.sqrt(1.5)), 4)
    # the median does not follow one odd flood
    odd, _ = correction([took(6.0)] * 4 + [took(40.0)])
    assert odd == pytest.approx(1.5 ** (5 / 9))
    assert correction([took(60.0)] * 40)[0] == 2.0


def test_a_correction_never_learns_from_itself() -> None:
    # The same flood, predicted with a correction of 1.5 in it: 6 h instead of 4; it took 6 h. The ratio is still 1.5.
    corrected = took(6.0, middle_h=6.0, factor=1.5)
    assert corrected.log_ratio == pytest.approx(math.log(1.5))
    assert correction([corrected] * 4)[0] == pytest.approx(math.sqrt(1.5))


def test_a_look_the_next_morning_teaches_nothing_unless_it_contradicts() -> None:
    assert replace(MADE, frozen_h=11.0).log_ratio is None
    assert replace(MADE, frozen_h=2.0).log_ratio == pytest.approx(math.log(2 / 4))
    assert replace(MADE, not_frozen_h=8.0).log_ratio == pytest.approx(math.log(8 / 4))
    assert replace(MADE, not_frozen_h=3.0).log_ratio is None
