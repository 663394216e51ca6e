"""Squareness, marks, counts, wind and fences: against coordinates, shapely, exact geometry and Tabler's figures."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from shapely.geometry import LineString, box

from rinklog.geometry import fence_profile as drifts
from rinklog.geometry.blown import guarded, overlap_m, sector_of, sectors
from rinklog.geometry.corner import stakes
from rinklog.geometry.ground import Ground
from rinklog.geometry.marking import marking, reels
from rinklog.geometry.sheet import Lay, Sheet
from rinklog.geometry.site import Kit, plan_site
from rinklog.geometry.squareness import shift_m
from rinklog.geometry.standing import Placed, SiteError
from rinklog.geometry.wind_load import net_nm, pressure_pa, wall_nm

SHEET = Sheet(40, 20, 4)
FLAT = Placed(Ground(((0.4, 0.4), (0.0, 0.0)), 40.0, 20.0), SHEET, Lay(20, 10))


def test_two_diagonals_say_how_far_the_end_must_slide() -> None:
    # 20 m wide, the far end 0.30 m too far to one side and as far away as the sides allow.
    far = math.sqrt(40**2 - 0.3**2)
    first, second = math.hypot(20 + 0.3, far), math.hypot(20 - 0.3, far)
    assert shift_m(first, second, 20) == pytest.approx(0.3, rel=1e-9)
    assert shift_m(44.72, 44.72, 20) == 0


def test_lines_end_at_the_boards_that_shapely_draws() -> None:
    shape = box(4, 4, 36, 16).buffer(4, quad_segs=2048)
    marks = marking(SHEET, (0.5, 2.0, 20.0, 39.0), (4.5, 0.15))
    for at, long in marks.lines_m:
        assert long == pytest.approx(LineString([(at, -1), (at, 21)]).intersection(shape).length, abs=1e-4)
    assert [round(each, 3) for _, each in marks.circles_m] == [28.274, 0.942]  # 2 pi r by hand
    assert (reels(100.0, 50.0), reels(100.1, 50.0), reels(0.0, 50.0)) == (2, 3, 0)


@pytest.mark.parametrize(
    ("lines", "circles", "code"),
    [((40.0,), (), "line"), ((), (10.5,), "circle"), ((1.0,) * 41, (), "many-marks")],
)
def test_marks_off_the_ice_are_refused(
    lines: tuple[float, ...], circles: tuple[float, ...], code: str
) -> None:
    with pytest.raises(SiteError) as refused:
        marking(SHEET, lines, circles)
    assert refused.value.code == code


def test_counts_are_whole_pieces_of_each_straight() -> None:
    kit = Kit(
        board_m=0.6, board_length_m=2.0, stake_gap_m=1.25, net_m=2.0, net_length_m=6.0, lines_at_m=(20.0,)
    )
    plan = plan_site(FLAT, kit, flow_ls=0.5)
    # Straights of 32 and 12 m: 16 and 6 boards twice; each corner 6.283 m of arc: 4 bent ones.
    assert (plan.parts.boards, plan.parts.bent_boards, plan.parts.brackets) == (44, 16, 120)
    # 32 / 1.25 = 25.6 and 12 / 1.25 = 9.6 stakes: 26 and 10 twice; 5.03 a corner: 6.
    assert plan.parts.stakes == 2 * (26 + 10) + 4 * 6
    assert plan.parts.nets == 2 * 5  # 12 m and two corners: 24.57 m behind each end, in pieces of 6 m
    assert plan.parts.reels == 1
    assert plan.push_nm == pytest.approx(1000 * 9.80665 * 0.45**2 / 2)
    assert plan.hose_h == pytest.approx(plan.standing.volume_m3 / 0.5e-3 / 3600)
    assert plan.diagonal_m == pytest.approx(math.sqrt(2000))
    # Ground of √(40² + 0.4²) = 40.002 m, boards of 0.6 m climbed and 0.3 m over them at either end.
    assert plan.liner.cut_length_m == pytest.approx(40.002 + 1.8, abs=1e-4)


def test_stakes_of_a_corner_lie_on_the_circle_and_their_chords_between_them() -> None:
    found = stakes(4.0, 1.0)
    for x, y in zip(found.x_m, found.y_m, strict=True):
        assert math.hypot(4 - x, 4 - y) == pytest.approx(4.0)
    gaps = [
        math.dist(a, b)
        for a, b in zip(
            zip(found.x_m, found.y_m, strict=True),
            list(zip(found.x_m, found.y_m, strict=True))[1:],
            strict=False,
        )
    ]
    assert found.chord_m[1:] == pytest.approx(gaps)


def test_a_gust_pushes_as_the_code_says() -> None:
    # ½ · 1.25 · 25² = 390.6 Pa; a board of 1.2 m with 1.4: 656 N on each metre (by hand from EN 1991-1-4's terms).
    assert pressure_pa(25) == pytest.approx(390.625)
    assert wall_nm(25, 1.2) == pytest.approx(656.25)
    assert net_nm(25, 2.0, 0.15) == pytest.approx(390.625 * 0.18 * 2)


def test_the_drift_has_tablers_length_depth_and_area() -> None:
    # Tabler 1980, fence of 1.2 m: area 27.792 m², length 36 m, depth 1.44 m (reference value of the task).
    area = quad(lambda x: float(drifts.profile_m(1.2, np.array(x))), 0, 36)[0]
    assert area == pytest.approx(27.792, rel=2e-4)
    deep = drifts.profile_m(1.2, np.linspace(0, 40, 4001))
    assert deep.max() == pytest.approx(1.44, rel=1e-4)
    assert deep[3600:].max() == pytest.approx(0.0, abs=1e-6)
    assert 5.5 * 1.2 < np.linspace(0, 40, 4001)[deep.argmax()] < 8 * 1.2


def test_a_drift_grows_towards_the_setback_and_not_past_it() -> None:
    # Full: 34.3 H (from memory of Tabler 1994), inside the published setback of 35 H.
    assert drifts.reach_m(1.2, 1.0) == pytest.approx(34.3 * 1.2)
    assert drifts.reach_m(1.2, 0.0) == 0
    reaches = [drifts.reach_m(1.2, share / 10) for share in range(11)]
    assert reaches == sorted(reaches)
    assert drifts.filled(1.2, 12.695 / 2) == pytest.approx(0.5, rel=1e-3)  # capacity 12.695 t/m is published
    assert drifts.area_m2(1.2, 99.0) == pytest.approx(27.792)


def test_a_wind_record_brings_what_its_hours_carry() -> None:
    # One hour at 15 m/s carries 453.44 kg/m (reference value of the task), two hours at 10 m/s twice 97.134.
    blows = [
        (15.0, 315.0, -5.0),
        (10.0, 200.0, -5.0),
        (10.0, 225.0, -5.0),
        (4.0, 90.0, -5.0),
        (9.5, 0.0, 2.0),
    ]
    found = {one.name: one for one in sectors(blows, [None] * 8, None)}
    assert found["NW"].comes_tm == pytest.approx(0.45344, rel=2e-3)
    assert found["SW"].comes_tm + found["S"].comes_tm == pytest.approx(2 * 0.097134, rel=2e-3)
    assert found["E"].hours == 0  # below the threshold of 8.61 m/s at -5 °C
    assert found["N"].hours == 0  # wet snow needs 9.9 m/s


def test_no_more_comes_than_lies_upwind() -> None:
    # 500 m of fetch and 100 mm of winter: at most 41.912 t/m (reference value of the task), all from one side.
    blows = [(25.0, 315.0, -5.0)] * 200
    (most,) = (one for one in sectors(blows, [500.0] * 8, 100.0) if one.hours)
    assert most.comes_tm == pytest.approx(41.912, rel=2e-3)
    assert most.potential_tm > 100


def test_directions_go_round_the_compass() -> None:
    assert [sector_of(deg) for deg in (0, 359, 22.4, 22.6, 270, 337.4, 360)] == [0, 0, 0, 1, 6, 7, 0]
    assert [guarded(deg, 10) for deg in (350, 40, 41)] == [True, True, False]
    assert overlap_m(42.0) == pytest.approx(42 / math.sqrt(3))  # tan 30°
