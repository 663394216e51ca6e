"""Zones of a rounded rink: shapely as oracle for areas, and quadrature by hand for the closed form."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely.geometry import Polygon, box

from rinklog.geometry.grid import Grid, clipped_area_m2, zone_name

SIZES = st.tuples(st.floats(5, 70), st.floats(4, 35), st.floats(0, 1), st.integers(1, 14), st.integers(1, 8))


def _rounded(length: float, width: float, radius: float) -> Polygon:
    inner = box(radius, radius, length - radius, width - radius)
    return inner.buffer(radius, quad_segs=2000) if radius > 0 else box(0, 0, length, width)


@settings(max_examples=40, deadline=None)
@given(SIZES)
def test_every_zone_has_the_area_shapely_finds(size: tuple[float, float, float, int, int]) -> None:
    length, width, share, rows, columns = size
    radius = 0.49 * round(share, 3) * min(length, width)
    rink = _rounded(length, width, radius)
    for zone in Grid(length, width, radius, rows, columns).zones:
        cut = rink.intersection(box(zone.x0_m, zone.y0_m, zone.x1_m, zone.y1_m))
        assert zone.area_m2 == pytest.approx(cut.area, abs=1e-5 * radius**2 + 1e-9)


def test_a_corner_zone_agrees_with_quadrature() -> None:
    # Independent: scipy.integrate.quad of the arc's height over a 5 m zone with an 8.5 m corner.
    r = 8.5
    area, _ = quad(lambda x: max(5 - (r - math.sqrt(r * r - (r - x) ** 2)), 0), 0, 5, epsabs=1e-9, limit=400)
    assert clipped_area_m2(60, 30, r, (0, 0, 5, 5)) == pytest.approx(area, rel=1e-6)


@given(SIZES)
def test_the_zones_add_up_to_the_rink(size: tuple[float, float, float, int, int]) -> None:
    length, width, share, rows, columns = size
    radius = share * min(length, width) / 2
    grid = Grid(length, width, radius, rows, columns)
    whole = length * width - (4 - math.pi) * radius**2
    assert sum(zone.area_m2 for zone in grid.zones) == pytest.approx(whole, rel=1e-12)
    assert grid.area_m2 == pytest.approx(whole)


@settings(max_examples=30, deadline=None)
@given(SIZES)
def test_a_drawn_zone_nearly_has_its_true_area(size: tuple[float, float, float, int, int]) -> None:
    length, width, share, rows, columns = size
    grid = Grid(length, width, 0.98 * share * min(length, width) / 2, rows, columns)
    for zone in grid.zones:
        outline = grid.outline_m(zone.row, zone.column, arc_steps=64)
        drawn = Polygon(outline).area if len(outline) > 2 else 0.0
        assert drawn == pytest.approx(zone.area_m2, abs=2e-3 * grid.corner_m**2 + 1e-9)


@pytest.mark.parametrize(
    ("length", "width", "rows", "columns"),
    [(40, 20, 8, 4), (60, 30, 12, 6), (61, 26, 12, 5), (12, 40, 2, 6), (3, 2, 1, 1)],
)
def test_a_rink_starts_with_zones_of_about_five_metres_at_most_six_across(
    length: float, width: float, rows: int, columns: int
) -> None:
    grid = Grid.for_size(length, width)
    assert (grid.rows, grid.columns) == (rows, columns)


def test_zones_are_named_like_a_map() -> None:
    assert [zone_name(*place) for place in ((0, 0), (7, 3), (25, 0), (26, 1), (52, 0))] == [
        "A1",
        "H4",
        "Z1",
        "AA2",
        "BA1",
    ]


@pytest.mark.parametrize(
    "bad",
    [(0, 20, 0, 1, 1), (math.nan, 20, 0, 1, 1), (40, 20, 10.1, 1, 1), (40, 20, -1, 1, 1), (40, 20, 0, 0, 1)],
)
def test_an_impossible_rink_is_refused(bad: tuple[float, float, float, int, int]) -> None:
    with pytest.raises(ValueError, match="permitted"):
        Grid(*bad)
