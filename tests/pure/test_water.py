"""Water on the floor, at the boards and through the hose; values by hand or computed with scipy and fluids."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad

from rinklog.geometry import basin, boards, corner, hose, liner
from rinklog.physics.validity import OutOfRangeError

PSI_PA, GALLON_M3, INCH_M = 6894.757, 3.785412e-3, 0.0254


@pytest.mark.parametrize(
    ("depth", "pressure", "force", "moment"), [(0.30, 2942, 441.3, 44.13), (0.15, 1471, 110.32, 5.5162)]
)
def test_water_against_the_boards(depth: float, pressure: float, force: float, moment: float) -> None:
    found = (boards.pressure_pa(depth), boards.force_nm(depth), boards.moment_nmm(depth))
    assert found == pytest.approx((pressure, force, moment), rel=2e-4)


@pytest.mark.parametrize(
    ("fall_long", "fall_cross", "depth", "volume"),
    [(0.01, 0, 0.45, 200), (0.01, 0, 0.20, 40), (0.01, 0.005, 0.6, 280)],
)
def test_water_on_a_slope(fall_long: float, fall_cross: float, depth: float, volume: float) -> None:
    # 40 x 20 m, by hand: prism and wedge.
    found = basin.sloping(40, 20, fall_long, fall_cross, depth)
    assert found.volume_m3 == pytest.approx(volume)
    if volume == 200:
        assert found.volume_m3 / GALLON_M3 == pytest.approx(52834, rel=1e-4)
    if volume == 40:
        assert found.volume_m3 / GALLON_M3 == pytest.approx(10567, rel=1e-4)
        assert found.wet_area_m2 == pytest.approx(400)


def test_one_percent_of_fall_costs_five_times_the_water_of_a_level_floor() -> None:
    # The open values: 50 mm at the high end of 40 x 20 m takes 200 m³, level 40 m³.
    depth = basin.depth_for_cover_m(40, 20, 0.01, 0, 0.05)
    assert basin.sloping(40, 20, 0.01, 0, depth).volume_m3 == pytest.approx(200)
    assert basin.sloping(40, 20, 0, 0, 0.05).volume_m3 == pytest.approx(40)


@given(st.floats(1, 60), st.floats(1, 30), st.floats(0, 0.05), st.floats(0, 0.05), st.floats(0.001, 2))
def test_a_sloping_basin_agrees_with_the_closed_form(
    length: float, width: float, along: float, across: float, depth: float
) -> None:
    # Inclusion and exclusion of tetrahedra, valid for falls that are not tiny.
    along, across = along + 0.001, across + 0.001

    def cube(value: float) -> float:
        return max(value, 0.0) ** 3

    far, side = depth - along * length, depth - across * width
    closed = (cube(depth) - cube(far) - cube(side) + cube(far - across * width)) / (6 * along * across)
    assert basin.sloping(length, width, along, across, depth).volume_m3 == pytest.approx(closed, rel=1e-6)


def test_a_partly_dry_basin_agrees_with_quadrature() -> None:
    # scipy.integrate.dblquad.
    volume, _ = dblquad(lambda y, x: max(0.3 - 0.012 * x - 0.02 * y, 0.0), 0, 40, 0, 20, epsabs=1e-6)
    assert basin.sloping(40, 20, 0.012, 0.02, 0.3).volume_m3 == pytest.approx(volume, rel=1e-4)


def test_a_surveyed_grid_by_both_rules() -> None:
    # 3 x 3 nodes 20 m by 10 m apart, Simpson 132 and trapezoid 131 m³, by hand.
    depths = np.array([[0.10, 0.14, 0.19], [0.12, 0.17, 0.20], [0.11, 0.18, 0.26]])
    found = basin.surveyed(-depths, 20, 10, 0.0)
    assert found.volume_simpson_m3 == pytest.approx(132)
    assert found.volume_m3 == pytest.approx(131)
    assert (found.greatest_depth_m, found.wet_area_m2) == (0.26, 800)


def test_an_even_grid_has_no_simpson_and_dry_nodes_hold_no_water() -> None:
    # By hand: one of four corners wet by 0.2 m, a quarter of 0.2 over 10 x 10 m.
    found = basin.surveyed(np.array([[0.0, 1.0], [1.0, 1.0]]), 10, 10, 0.2)
    assert found.volume_simpson_m3 is None
    assert found.volume_m3 == pytest.approx(5.0)
    assert found.wet_area_m2 == pytest.approx(25.0)


def test_the_prismoid_between_three_sections() -> None:
    assert basin.prismoid_m3(2.0, 3.5, 5.4, 40) == pytest.approx(142.67, rel=1e-4)


@pytest.mark.parametrize(
    ("gpm", "inches", "head", "psi"), [(10, 0.75, 9.7427, 13.857), (5, 0.625, 6.5587, 9.3286)]
)
def test_hazen_williams_over_a_hundred_feet(gpm: float, inches: float, head: float, psi: float) -> None:
    # Computed; tolerance 1 %.
    found = hose.head_loss_m(30.48, inches * INCH_M, gpm * GALLON_M3 / 60)
    assert found == pytest.approx(head, rel=1e-2)
    assert hose.loss_pa(found) / PSI_PA == pytest.approx(psi, rel=1e-2)


@pytest.mark.parametrize(("gpm", "inches", "psi"), [(10, 0.75, 14), (10, 0.625, 38)])
def test_a_pump_makers_hose_chart(gpm: float, inches: float, psi: float) -> None:
    # A pump maker's manual, psi per 100 ft; tolerance 15 %.
    loss = hose.loss_pa(hose.head_loss_m(30.48, inches * INCH_M, gpm * GALLON_M3 / 60))
    assert loss / PSI_PA == pytest.approx(psi, rel=0.15)


def test_the_nfpa_form_says_the_same() -> None:
    # NFPA 13, second hand: psi/ft = 4.52 Q^1.85 / (C^1.85 d^4.87), gpm and inches.
    nfpa = 100 * 4.52 * 10**1.85 / (140**1.85 * 0.75**4.87)
    ours = hose.loss_pa(hose.head_loss_m(30.48, 0.75 * INCH_M, 10 * GALLON_M3 / 60)) / PSI_PA
    assert ours == pytest.approx(nfpa, rel=0.01)


def test_a_one_inch_steel_pipe_by_darcy_and_colebrook() -> None:
    # Schedule 40 (26.645 mm, roughness 0.0457 mm), 10 US gpm at 60 °F: fluids 1.3.1 gives 3.712 ft/s and
    # 2.967 psi/100 ft; Crane TP-410 (from memory) 3.71 and 2.99. Water at 60 °F 999 kg/m³, 1.122 mPa·s.
    flow = 10 * GALLON_M3 / 60
    assert hose.velocity_ms(flow, 0.026645) / 0.3048 == pytest.approx(3.712, rel=1e-3)
    loss = hose.darcy_loss_pa(30.48, 0.026645, flow, 4.57e-5, 1.122e-3, 999)
    assert loss / PSI_PA == pytest.approx(2.967, rel=1e-2)


def test_slow_water_flows_by_poiseuille() -> None:
    # By hand: 128 mu L Q / (pi d^4).
    loss = hose.darcy_loss_pa(10, 0.02, 1e-6, viscosity_pas=1.792e-3)
    assert loss == pytest.approx(128 * 1.792e-3 * 10 * 1e-6 / (np.pi * 0.02**4))


def test_cold_water_loses_more_than_hazen_williams_says() -> None:
    # Viscosity at 0 °C is 1.8 times that at 20 °C: the loss grows, by less than a third in a garden hose.
    cold, mild = (hose.darcy_loss_pa(30.48, 0.01905, 6.3e-4, 1.5e-6, v) for v in (1.792e-3, 1.002e-3))
    assert 1.05 < cold / mild < 1.33


def test_fifty_cubic_metres_at_ten_gallons_a_minute() -> None:
    assert hose.fill_s(50, 10 * GALLON_M3 / 60) / 3600 == pytest.approx(22.014, rel=1e-4)


def test_the_liner_climbs_and_hangs_over_both_ways() -> None:
    # By hand: 20 + 2 (0.3 + 0.5 + 0.3) = 22.2 and 10 + 2.2 = 12.2 m.
    found = liner.liner(20, 10, 0.5, 0.3)
    assert found == pytest.approx((22.2, 12.2, 270.84))


def test_a_circle_both_ways() -> None:
    assert corner.perimeter_m(8.5) == pytest.approx(53.40708)
    assert corner.radius_m(53.40708) == pytest.approx(8.5)


@given(st.floats(0.5, 20), st.floats(0.1, 5))
def test_stakes_stand_on_the_circle_at_most_the_spacing_apart(radius: float, spacing: float) -> None:
    found = corner.stakes(radius, spacing)
    for x, y in zip(found.x_m, found.y_m, strict=True):
        assert np.hypot(x - radius, y - radius) == pytest.approx(radius)
    gaps = np.hypot(np.diff(found.x_m), np.diff(found.y_m))
    assert found.chord_m[1:] == pytest.approx(gaps)
    assert max(gaps) <= spacing + 1e-9
    assert (found.x_m[0], found.y_m[-1]) == pytest.approx((radius, radius))
    assert (found.y_m[0], found.x_m[-1]) == pytest.approx((0, 0), abs=1e-9)


def test_impossible_water_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="fall_long is -0.1"):
        basin.sloping(40, 20, -0.1, 0, 0.2)
    with pytest.raises(ValueError, match="at least 2 rows"):
        basin.surveyed(np.zeros((1, 3)), 1, 1, 0)
    with pytest.raises(OutOfRangeError, match="flow_m3s"):
        hose.fill_s(1, 0)
