"""Curves are scaled right: by hand calculation."""

import pytest

from rinklog.web.charts import curve, ticks


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ([0, 10], [0, 5, 10]),
        ([0, 7.3], [0, 2, 4, 6, 8]),
        ([-3, 3], [-4, -2, 0, 2, 4]),
        ([0.001, 0.004], [0.001, 0.002, 0.003, 0.004]),
    ],
)
def test_ticks_are_round_and_enclose_the_values(values: list[float], expected: list[float]) -> None:
    assert ticks(values) == pytest.approx(expected)


def test_one_value_or_none_still_gets_an_axis() -> None:
    assert ticks([5])[0] < 5 < ticks([5])[-1]
    assert len(ticks([])) >= 2


def test_a_straight_line_is_drawn_from_corner_to_corner() -> None:
    drawn = curve([0, 5, 10], [0, 50, 100], x_title="h", y_title="mm")
    # The frame is 44 to 312 across and 150 to 10 up; the middle point lies in the middle.
    assert drawn.points == "44.0,150.0 178.0,80.0 312.0,10.0"


def test_a_point_that_is_not_finite_is_left_out() -> None:
    assert len(curve([0, 1, 2], [0, float("nan"), 1], x_title="", y_title="").points.split()) == 2
