"""Drill holes: what they do to the members, which are asked about, and that only an answer makes those count."""

from uuid import uuid4

import numpy as np
import pytest
from scipy.stats import norm

from rinklog.facts import Conflict, Refused
from rinklog.ice.bands import band, quantile
from rinklog.ice.models import HoleQuestion
from rinklog.ice.plausible import limit_m
from rinklog.ice.queries import open_questions
from rinklog.ice.services import answer_question, project
from rinklog.ice.spread import Spread
from rinklog.ice.state import SETTINGS
from rinklog.ice.summing import factors_of
from rinklog.ice.weighing import effective, redrawn, systematic, with_hole
from rinklog.physics.column.marching import depths
from rinklog.work.services import undo_entry
from tests.ice.inventing import after, grounds, hole, inputs, known, middle_mm
from tests.support.cast import Cast
from tests.support.winter import at

NOW = at(12, 20, 40)
DAYS = 3 * 24


def drilled(cast: Cast, ice_m: float, zone: int = 0, day: int = 12, hour: int = 9) -> HoleQuestion | None:
    """Drill a hole and bring the estimate up to now; the question about it, if there is one."""
    entry = cast.work(
        "drill-hole",
        now=NOW,
        started_at=at(day, hour),
        zone_ids=(cast.zones[zone].id,),
        details={"clear_ice_m": ice_m},
    )
    project(rink=cast.rink, now=NOW)
    return HoleQuestion.objects.filter(entry=entry).first()


def middle(cast: Cast, zone: int = 0) -> float:
    estimate = project(rink=cast.rink, now=NOW)
    assert estimate is not None
    return estimate.zones[cast.zones[zone].id].thickness_m.middle


def test_a_hole_draws_its_zone_near_and_the_others_a_little() -> None:
    made = inputs(known(DAYS), grounds(0.2, 0.2))
    free = after(made)
    free_mm = [middle_mm(free, zone) for zone in (0, 1)]
    measured_m = free_mm[0] / 1000 + 0.008
    told = after(inputs(known(DAYS), grounds(0.2, 0.2), holes=(hole(DAYS - 2, measured_m),)))
    own, other = (middle_mm(told, zone) - free_mm[zone] for zone in (0, 1))
    assert 2.5 < own < 9.5
    assert 0.2 < other < own


def test_weights_of_one_hole_are_the_normal_density_of_its_error() -> None:
    # scipy's normal density; the errors as stated in spread.py, written out.
    state = after(inputs(known(30), grounds(0.2, 0.2), spread=Spread(8)))
    ice_m = depths(state.column, SETTINGS)["ice_m"].reshape(2, 8)
    told = with_hole(state, hole(29.5, 0.030), ice_m, Spread())
    own_m = np.hypot(0.004, 0.04 * 0.030)
    for zone, error_m in ((0, own_m), (1, np.hypot(own_m, np.hypot(0.004, 0.12 * 0.030)))):
        wanted = norm.pdf(ice_m[0], loc=0.030, scale=error_m)
        np.testing.assert_allclose(told.weights[zone], wanted / wanted.sum(), rtol=1e-9)


def test_the_effective_number_is_all_for_equal_weights_and_one_for_one_member() -> None:
    assert effective(np.full((1, 50), 0.02))[0] == pytest.approx(50)
    assert effective(np.eye(50)[:1])[0] == pytest.approx(1)


def test_redrawing_keeps_members_in_proportion() -> None:
    # By hand: shares 0.1, 0.2, 0.7 of ten members are 1, 2 and 7 of them, wherever the first step lands.
    weights = np.array([0.1, 0.2, 0.7] + [0.0] * 7)
    for first in (0.01, 0.5, 0.99):
        assert np.bincount(systematic(weights, first), minlength=10)[:3].tolist() == [1, 2, 7]


def test_members_are_redrawn_only_where_few_carry_a_zone_and_always_alike() -> None:
    made = inputs(known(DAYS), grounds(0.2, 0.2))
    state = after(made)
    state.log_weights[0] = np.where(np.arange(50) == 7, 0.0, -60.0)
    one, two = redrawn(state, made), redrawn(state, made)
    np.testing.assert_array_equal(one.column.cells, two.column.cells)
    assert (one.log_weights[0] == 0).all()
    ice = one.column.cells.reshape(5, 2, 50, -1)
    was = state.column.cells.reshape(5, 2, 50, -1)
    assert (ice[:, 0] == was[:, 0, 7:8]).all()
    np.testing.assert_array_equal(ice[:, 1], was[:, 1])


def test_quantiles_of_equal_weights_are_weibulls() -> None:
    values = np.random.default_rng(3).normal(size=37)
    for share in (0.1, 0.5, 0.9):
        wanted = np.quantile(values, share, method="weibull")
        assert quantile(values, np.full(37, 1 / 37), share) == pytest.approx(wanted, abs=1e-12)
    assert band(np.zeros(5), np.full(5, 0.2)).high == 0


def test_the_limit_of_what_frost_can_grow_is_stefans() -> None:
    # 3.52 cm times the root of the degree-days: 100 degree-days 35.2 cm; a coat of 10 mm of water adds 10.9 mm of ice.
    assert limit_m(100.0, 0.0) == pytest.approx(0.352)
    assert limit_m(100.0, 0.010) == pytest.approx(0.352 + 0.0109, abs=1e-4)


def test_a_plausible_hole_counts_at_once(cold: Cast) -> None:
    assert drilled(cold, 0.125) is None
    assert open_questions(cold.rink) == []


@pytest.mark.parametrize(("ice_m", "why"), [(0.60, "limit"), (0.020, "jump")])
def test_an_implausible_hole_is_asked_about_kept_and_not_used(cold: Cast, ice_m: float, why: str) -> None:
    without = middle(cold)
    question = drilled(cold, ice_m)
    assert question is not None
    assert question.why == why
    assert middle(cold) == without
    assert [one.entry_id for one in open_questions(cold.rink)] == [question.entry_id]


def test_a_confirmed_hole_sets_its_zone_and_says_who_confirmed_it(cold: Cast) -> None:
    question = drilled(cold, 0.060)
    assert question is not None
    others = middle(cold, 3)
    assert answer_question(question=question, answer="right", by=cold.bo, now=NOW) is True
    assert answer_question(question=question, answer="right", by=cold.bo, now=NOW) is False
    # Drilled at 9 in the morning at 60 mm; until the evening of the same cold day a few millimetres more.
    assert 0.052 < middle(cold) < 0.085
    assert middle(cold, 3) == others
    kept = HoleQuestion.objects.get(entry=question.entry_id)
    assert (kept.answer, kept.answered_by, kept.answered_at) == ("right", cold.bo, NOW)
    assert open_questions(cold.rink) == []


def test_a_hole_called_a_mistake_never_counts(cold: Cast) -> None:
    without = middle(cold)
    question = drilled(cold, 0.020)
    assert question is not None
    answer_question(question=question, answer="mistake", by=cold.bo, now=NOW)
    assert middle(cold) == without
    assert open_questions(cold.rink) == []
    with pytest.raises(Conflict):
        answer_question(question=question, answer="right", by=cold.ada, now=NOW)
    with pytest.raises(Refused):
        answer_question(question=question, answer="perhaps", by=cold.ada, now=NOW)


def test_a_question_goes_when_the_hole_is_taken_back(cold: Cast) -> None:
    question = drilled(cold, 0.020)
    assert question is not None
    undo_entry(id=uuid4(), entry=question.entry, by=cold.cleo, now=NOW, within=at(12) - at(5))
    project(rink=cold.rink, now=NOW)
    assert HoleQuestion.objects.count() == 0


def test_the_factors_follow_what_the_holes_say() -> None:
    made = inputs(known(4 * 24, air_c=-6.0), grounds(0.3, 0.3, 0.3))
    free = after(made)
    thick = tuple(
        hole(hours, middle_mm(after(made, hours)) / 1000 * 1.08, zone)
        for zone, hours in ((0, 60), (1, 72), (2, 90))
    )
    told = after(inputs(known(4 * 24, air_c=-6.0), grounds(0.3, 0.3, 0.3), holes=thick))
    assert factors_of(told)["exchange"] > factors_of(free)["exchange"] + 0.02
