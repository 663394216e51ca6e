"""Water on surveyed ground: against closed forms, scipy's quadrature and interpolation, and shapely's outlines."""

import math

import numpy as np
import pytest
from scipy.integrate import dblquad
from scipy.interpolate import RegularGridInterpolator
from shapely.affinity import rotate, translate
from shapely.geometry import Point, box

from rinklog.geometry.ground import Ground
from rinklog.geometry.levels import out_of_plane_m, read_levels
from rinklog.geometry.sheet import Lay, Sheet
from rinklog.geometry.standing import Placed, SiteError, depth_map, standing

ROUGH = tuple(
    tuple(0.02 * ((7 * i * i + 5 * j + 3 * i * j) % 11) for j in range(6)) for i in range(9)
)  # no pattern that a rule of integration could like
FIELD = Ground(ROUGH, 60.0, 40.0)
PLANE = Ground(((0.4, 0.4), (0.0, 0.0)), 40.0, 20.0)


def outline(sheet: Sheet, lay: Lay):  # type: ignore[no-untyped-def]
    """The boards as shapely draws them, on the field."""
    r = sheet.corner_m
    made = box(r, r, sheet.length_m - r, sheet.width_m - r).buffer(r, quad_segs=512)
    made = translate(made, lay.x_m - sheet.length_m / 2, lay.y_m - sheet.width_m / 2)
    return rotate(made, lay.turn_deg, origin=(lay.x_m, lay.y_m))


def test_a_plane_holds_what_its_wedge_holds() -> None:
    # 40 m × 20 m falling 0.40 m, 50 mm at the high end: mean depth 0.25 m, 200 m³ (reference value of the task).
    water = standing(Placed(PLANE, Sheet(40, 20), Lay(20, 10)), 0.05)
    assert water.volume_m3 == pytest.approx(200.0, rel=1e-12)
    assert water.deepest_m == water.board_depth_m == pytest.approx(0.45)
    assert water.board_u_m == pytest.approx(40.0)
    # Rounding the corners takes (4 - pi) r² of ice, symmetric about the middle: the mean depth stays.
    rounded = standing(Placed(PLANE, Sheet(40, 20, 4), Lay(20, 10)), 0.05)
    assert rounded.volume_m3 == pytest.approx(0.25 * (800 - (4 - math.pi) * 16), rel=1e-6)


def test_the_ground_between_points_is_scipys() -> None:
    rng = np.random.default_rng(6)
    x, y = rng.uniform(0, 60, 500), rng.uniform(0, 40, 500)
    theirs = RegularGridInterpolator((np.linspace(0, 60, 9), np.linspace(0, 40, 6)), np.array(ROUGH))
    assert FIELD.heights(x, y) == pytest.approx(theirs(np.column_stack([x, y])), abs=1e-12)


@pytest.mark.parametrize("turn", [0.0, 23.0, 90.0, -17.5])
def test_a_turned_sheet_holds_what_a_count_over_shapelys_outline_says(turn: float) -> None:
    sheet, lay = Sheet(30, 15, 4), Lay(30.0, 20.0, turn)
    placed = Placed(FIELD, sheet, lay)
    ours = standing(placed, 0.05)
    shape = outline(sheet, lay)
    u, v = sheet.edge
    x, y = lay.on_field(sheet, u, v)
    assert max(shape.exterior.distance(Point(a, b)) for a, b in zip(x[::7], y[::7], strict=True)) < 1e-3
    assert sheet.area_m2 == pytest.approx(shape.area, rel=1e-5)
    assert sheet.around_m == pytest.approx(shape.length, rel=1e-5)
    # An independent count: the mean height over many cells whose middle shapely finds inside.
    import shapely

    grid_x, grid_y = np.meshgrid(np.arange(10.05, 50, 0.1), np.arange(0.05, 40, 0.1), indexing="ij")
    inside = shapely.contains_xy(shape, grid_x, grid_y)
    theirs = RegularGridInterpolator((np.linspace(0, 60, 9), np.linspace(0, 40, 6)), np.array(ROUGH))
    ground = theirs(np.column_stack([grid_x[inside], grid_y[inside]]))
    water = (ours.water_level_m - ground).sum() * 0.01
    assert ours.volume_m3 == pytest.approx(water, rel=2e-3)
    assert ours.water_level_m - 0.05 == pytest.approx(ground.max(), abs=0.004)
    assert ours.water_level_m - ours.deepest_m == pytest.approx(ground.min(), abs=0.004)


def test_a_curved_floor_holds_what_adaptive_quadrature_says() -> None:
    # A hollow z = 0.3 ((x-20)² / 400 + (y-10)² / 100) / 2, surveyed densely; scipy integrates the formula itself.
    def z(y: float, x: float) -> float:
        return 0.15 * ((x - 20) ** 2 / 400 + (y - 10) ** 2 / 100)

    xs, ys = np.linspace(0, 40, 81), np.linspace(0, 20, 81)
    ground = Ground(tuple(tuple(z(y, x) for y in ys) for x in xs), 40.0, 20.0)
    water = standing(Placed(ground, Sheet(40, 20), Lay(20, 10)), 0.05)
    exact, _error = dblquad(lambda y, x: 0.35 - z(y, x), 0, 40, 0, 20)
    assert water.volume_m3 == pytest.approx(exact, rel=2e-4)


def test_levelling_moves_what_the_prism_says() -> None:
    # Taking 0.10 m off the top of a plane that falls 0.40 m in 40 m cuts a prism 10 m long: ½ · 10 · 0.1 · 20 = 10 m³.
    water = standing(Placed(PLANE, Sheet(40, 20), Lay(20, 10, lower_m=0.1, raise_m=0.1)), 0.05)
    assert (water.cut_m3, water.fill_m3) == (pytest.approx(10.0, rel=1e-4), pytest.approx(10.0, rel=1e-4))
    assert water.fall_m == pytest.approx(0.2)
    # What is left: 20 m falling 0.2 m between two level parts of 10 m; 0.05, 0.25 and on average 0.15 m deep.
    assert water.volume_m3 == pytest.approx(20 * (10 * 0.05 + 20 * 0.15 + 10 * 0.25), rel=1e-4)


def test_the_cells_of_the_map_hold_the_whole_water() -> None:
    placed = Placed(PLANE, Sheet(40, 20), Lay(20, 10))
    cells = np.array(depth_map(placed, 0.05, 8, 4))
    assert cells.mean() == pytest.approx(0.25)
    assert cells[0] == pytest.approx([0.075] * 4, rel=1e-6)  # 5 m from the high end: 50 to 100 mm


@pytest.mark.parametrize(
    ("lay", "code"),
    [(Lay(15, 10), "outside"), (Lay(20, 10, 8.0), "outside"), (Lay(20, 10, 0, 0.3, 0.3), "upside-down")],
)
def test_a_sheet_off_the_survey_or_levelled_past_level_is_refused(lay: Lay, code: str) -> None:
    with pytest.raises(SiteError) as refused:
        standing(Placed(PLANE, Sheet(40, 20), lay), 0.05)
    assert refused.value.code == code


def test_semicolons_tabs_and_commas_split_a_survey() -> None:
    wanted = [[0.1, 0.2], [0.3, 0.4]]
    assert read_levels("0.1;0.2\n0.3;0.4") == read_levels("0.1\t0.2\r\n0.3\t0.4") == wanted
    assert read_levels("\ufeff0,1;0,2\n0,3;0,4\n\n") == wanted
    assert read_levels("10,20\n30,40", "cm") == [
        [pytest.approx(0.1), pytest.approx(0.2)],
        [pytest.approx(0.3), pytest.approx(0.4)],
    ]


def test_four_corners_off_one_plane_are_noticed() -> None:
    assert out_of_plane_m([[0.4, 0.3], [0.1, 0.0]]) == pytest.approx(0.0)
    assert out_of_plane_m([[0.4, 0.3], [0.1, 0.05]]) == pytest.approx(0.05)
    assert out_of_plane_m([[0, 0, 0], [0, 0, 0]]) is None
