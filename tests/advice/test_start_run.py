"""When building can start. The values are those of the published rules themselves, one step to either side."""

import datetime as dt

import pytest

from rinklog.advice.fill.sky import Sky, days_of
from rinklog.advice.fill.start_run import MINNEAPOLIS, MONTREAL, RITCHIE, best_run, own_rule
from tests.advice.fill_sky import HOUR, NOW, OSLO, days, hours

BURLINGTON = own_rule(
    -5.0, 5
)  # Burlington ON: nights below −5 °C for 5 nights; the default of the rink's own rule


@pytest.mark.parametrize(
    ("lows", "enough"),
    [
        ([-5.1] * 5, True),
        ([-5.1] * 4, False),
        ([-5.1, -5.1, -4.9, -5.1, -5.1], False),
        ([-5.0] * 5, False),  # "below"
        ([-2.0, *[-5.1] * 5], True),
    ],
)
def test_burlington_wants_five_nights_below_five(lows: list[float], enough: bool) -> None:
    assert best_run(days(lows), BURLINGTON).enough is enough


@pytest.mark.parametrize(("high", "enough"), [(-4.0, True), (-3.9, False)])
def test_montreal_wants_three_days_never_above_four_below(high: float, enough: bool) -> None:
    assert best_run(days([-12.0] * 3, [-6.0, high, -8.0]), MONTREAL).enough is enough


@pytest.mark.parametrize(
    ("low", "high", "enough"), [(-10.0, -5.0, True), (-9.9, -5.0, False), (-10.0, -4.9, False)]
)
def test_ritchie_wants_cold_nights_and_cold_days(low: float, high: float, enough: bool) -> None:
    assert best_run(days([low] * 3, [high] * 3), RITCHIE).enough is enough


def test_minneapolis_counts_ten_days_and_a_mild_sixth_begins_them_again() -> None:
    assert best_run(days([-6.0] * 10, [-0.1] * 10), MINNEAPOLIS).enough
    mild_sixth = [*[-0.1] * 5, 0.1, *[-0.1] * 9]
    run = best_run(days([-6.0] * 15, mild_sixth), MINNEAPOLIS)
    assert (run.enough, len(run.days)) == (False, 9)
    assert run.days[0].on == dt.date(2026, 12, 7)


def test_the_first_run_that_is_long_enough_is_named_and_a_missing_day_ends_it() -> None:
    cold = days([-8.0] * 12)
    assert best_run(cold, BURLINGTON).days[0].on == dt.date(2026, 12, 1)
    torn = [*cold[:4], *cold[5:]]
    assert best_run(torn, BURLINGTON).days[0].on == dt.date(2026, 12, 6)
    assert best_run([], BURLINGTON).days == ()


def test_a_run_says_on_which_of_its_days_something_falls() -> None:
    run = best_run(
        [*days([-8.0] * 5)[:2], *days([-8.0] * 5, precip_mm=3.0)[2:3], *days([-8.0] * 5)[3:]], BURLINGTON
    )
    assert [day.on.day for day in run.wetted] == [3]


def test_a_day_runs_from_noon_to_noon_on_the_rinks_clock_and_needs_most_of_its_hours() -> None:
    made = days_of([*hours(24), *hours(1, NOW + 24 * HOUR, air_c=-30.0)], OSLO)
    assert [(day.on, day.low_c, day.hours) for day in made] == [(dt.date(2026, 12, 1), -8.0, 24)]
    assert days_of(hours(17), OSLO) == []
    assert len(days_of(hours(18), OSLO)) == 1
    assert days_of([Sky(NOW + n * HOUR, None) for n in range(24)], OSLO) == []
