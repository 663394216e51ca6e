"""Wind chill against the cells of the 2001 charts (NWS and MSC, second hand) and metpy."""

from __future__ import annotations

import metpy.calc
import pytest
from hypothesis import given
from hypothesis import strategies as st
from metpy.units import units as mp

from rinklog.physics import wind_chill as wc
from rinklog.physics.validity import OutOfRangeError


@pytest.mark.parametrize(
    ("air", "wind", "cell"), [(-10, 20, -18), (-20, 30, -33), (0, 15, -4), (-30, 10, -39), (-15, 60, -30)]
)
def test_cells_of_the_celsius_chart(air: float, wind: float, cell: int) -> None:
    assert wc.rounded(wc.wind_chill_c(air, wind)) == cell


@pytest.mark.parametrize(("air", "wind", "cell"), [(0, 15, -19), (20, 25, 3), (-20, 10, -41), (35, 5, 31)])
def test_cells_of_the_fahrenheit_chart(air: float, wind: float, cell: int) -> None:
    assert wc.rounded(wc.wind_chill_f(air, wind)) == cell


def test_wind_chill_before_it_is_rounded() -> None:
    # Computed from the formula, 0.05.
    assert wc.wind_chill_c(-20, 30) == pytest.approx(-32.568, abs=0.05)
    assert wc.wind_chill_f(0, 15) == pytest.approx(-19.398, abs=0.05)


@given(st.floats(-45, 10), st.floats(5, 110))
def test_it_agrees_with_metpy(air: float, wind: float) -> None:
    theirs = metpy.calc.windchill(air * mp.degC, wind * mp("km/h"), mask_undefined=False).to("degC").magnitude
    assert wc.wind_chill_c(air, wind) == pytest.approx(float(theirs), abs=0.05)


@pytest.mark.parametrize(("value", "whole"), [(-18.5, -19), (-18.4999, -18), (2.5, 3), (-0.4, 0), (-0.5, -1)])
def test_halves_are_rounded_away_from_zero(value: float, whole: int) -> None:
    assert wc.rounded(value) == whole


@pytest.mark.parametrize(
    ("chill", "word"),
    [
        (-27.4, "low"),
        (-27.5, "10-30 min"),
        (-39.4, "10-30 min"),
        (-40, "5-10 min"),
        (-47, "5-10 min"),
        (-48, "2-5 min"),
        (-54.4, "2-5 min"),
        (-55, "under 2 min"),
    ],
)
def test_frostbite_classes_change_where_they_are_published(chill: float, word: str) -> None:
    # Environment and Climate Change Canada, second hand.
    assert wc.frostbite(chill) == word


@pytest.mark.parametrize(
    ("air", "wind"), [(10.1, 20), (0, 4.8), (0, 0), (0, float("nan")), (float("inf"), 9)]
)
def test_outside_the_formula_there_is_no_wind_chill(air: float, wind: float) -> None:
    with pytest.raises(OutOfRangeError, match="permitted"):
        wc.wind_chill_c(air, wind)
