"""Freezing against published closed forms.

Unless noted the literals were computed with scipy 1.17 from the stated formula and constants (k 2.22, rho
917, L 333 400, c 2090), and an independent enthalpy simulation agreed within 0.3 %.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rinklog.physics import freeze
from rinklog.physics.validity import OutOfRangeError

HOUR, DAY = 3600.0, 86400.0


@pytest.mark.parametrize(("stefan", "root"), [(0.01, 0.070593), (0.1, 0.22002), (1.0, 0.62006)])
def test_the_root_of_neumanns_equation(stefan: float, root: float) -> None:
    # Crank 1984, eq. 3.14, solved with scipy.
    assert freeze.front_root(stefan) == pytest.approx(root, rel=1e-4)


@pytest.mark.parametrize(
    ("drop_k", "seconds", "neumann_mm", "stefan_mm"),
    [(10, DAY, 110.87, 112.02), (5, 6 * HOUR, 39.399, 39.604), (20, 3 * DAY, 268.91, 274.38)],
)
def test_ice_under_a_cold_surface(drop_k: float, seconds: float, neumann_mm: float, stefan_mm: float) -> None:
    # Carslaw & Jaeger 1959 ch. XI; Stefan 1891.
    assert 1000 * freeze.neumann_m(drop_k, seconds) == pytest.approx(neumann_mm, rel=1e-3)
    assert 1000 * freeze.stefan_m(drop_k, seconds) == pytest.approx(stefan_mm, rel=1e-3)


@pytest.mark.parametrize(
    ("air_c", "exchange", "seconds", "ice_mm"),
    [(-10, 20, 6 * HOUR, 13.33), (-10, 20, DAY, 46.698), (-5, 10, DAY, 13.707)],
)
def test_ice_under_an_air_film(air_c: float, exchange: float, seconds: float, ice_mm: float) -> None:
    # Ashton 1989.
    assert 1000 * freeze.growth_m(0.0, air_c, exchange, seconds) == pytest.approx(ice_mm, rel=1e-3)


@pytest.mark.parametrize(
    ("start", "air_c", "exchange", "snow", "snow_k", "days", "ice_mm"),
    [(0.05, -12, 15, 0.05, 0.15, 2, 65.917), (0.1, -10, 20, 0.1, 0.10, 1, 102.58)],
)
def test_ice_grows_slowly_under_snow(
    start: float, air_c: float, exchange: float, snow: float, snow_k: float, days: float, ice_mm: float
) -> None:
    # Ashton 1989 with snow as a resistance.
    grown = freeze.growth_m(start, air_c, exchange, days * DAY, snow, snow_k)
    assert 1000 * grown == pytest.approx(ice_mm, rel=1e-3)


@pytest.mark.parametrize(
    ("water_mm", "air_c", "exchange", "hours"), [(4.58, -10, 20, 2.1685), (3.0, -5, 15, 3.7454)]
)
def test_a_thin_flood_on_a_base_at_freezing(
    water_mm: float, air_c: float, exchange: float, hours: float
) -> None:
    # Ashton 1989 inverted; tolerance 0.5 %.
    coat = freeze.coat_freeze(water_mm / 917, air_c, exchange)
    assert coat.seconds is not None
    assert coat.seconds / HOUR == pytest.approx(hours, rel=5e-3)
    assert coat.from_below_m == 0


def test_a_flood_on_cold_ice_or_cold_ground_freezes_from_both_sides() -> None:
    # Two-sided front after Carslaw & Jaeger ch. XI, computed with scipy; tolerance 1 %.
    ice = freeze.coat_freeze(0.010, -10, 20, base_c=-5)
    ground = freeze.coat_freeze(0.010, -10, 20, base_c=-4, base_k_wmk=1.8, base_heat_jm3k=2.0e6)
    assert ice.seconds is not None
    assert ground.seconds is not None
    assert ice.seconds / HOUR == pytest.approx(2.7461, rel=1e-2)
    assert ground.seconds / HOUR == pytest.approx(3.1019, rel=1e-2)


def test_a_slab_runs_out_of_cold() -> None:
    # Heat balance, computed.
    assert 1000 * freeze.cold_limit_m(0.1, -5) == pytest.approx(3.1344, rel=1e-3)
    thin = freeze.coat_freeze(0.010, -10, 20, base_c=-5, base_m=0.03)
    thick = freeze.coat_freeze(0.010, -10, 20, base_c=-5)
    assert thin.from_below_m == pytest.approx(0.00094032, rel=1e-3)
    assert thin.seconds is not None
    assert thick.seconds is not None
    assert thick.seconds < thin.seconds < freeze.coat_freeze(0.010, -10, 20).seconds


def test_a_coat_in_mild_air_never_freezes() -> None:
    assert freeze.coat_freeze(0.005, 2, 20) == freeze.CoatFreeze(None, None, None)
    assert freeze.coat_freeze(0.005, 0, 20, base_c=-5, base_m=0.01).seconds is None
    assert freeze.coat_freeze(0.005, 0, 20, base_c=-5).seconds is not None


@pytest.mark.parametrize(("inch", "degree_days_f", "ice_in"), [(0.8, 300, 13.856), (0.6, 500, 13.416)])
def test_degree_days_grow_ice_by_their_root(inch: float, degree_days_f: float, ice_in: float) -> None:
    # EM 1110-2-1612 after Michel 1971, computed.
    ice_m = freeze.degree_day_m(inch * 2.54 * math.sqrt(1.8), degree_days_f / 1.8)
    assert ice_m / 0.0254 == pytest.approx(ice_in, rel=1e-3)


@pytest.mark.parametrize(("inch", "centimetre"), [(0.8, 2.7262), (0.5, 1.7039)])
def test_the_degree_day_coefficient_in_both_systems(inch: float, centimetre: float) -> None:
    # 1 °C·d = 1.8 °F·d (NIST SP 811).
    assert freeze.coefficient_in(centimetre) == pytest.approx(inch, rel=1e-4)


def test_the_ceiling_of_the_degree_day_coefficient() -> None:
    # Stefan with k 2.24 over one °C·d: 3.56 cm, 1.044 in per √(°F·d), computed.
    ceiling_cm = 100 * freeze.stefan_m(1, DAY, k_ice_wmk=2.24)
    assert ceiling_cm == pytest.approx(3.56, abs=5e-3)
    assert freeze.coefficient_in(ceiling_cm) == pytest.approx(1.044, abs=1e-3)


def test_bare_stefan_would_freeze_a_thin_coat_in_minutes_and_the_air_film_in_hours() -> None:
    # The sanity line of the open values: a 5 mm coat at -10 °C, 3 min against 2.2 h (order of magnitude).
    assert freeze.stefan_m(10, 180) == pytest.approx(0.005, rel=0.05)
    assert 1.9 < freeze.time_to_grow_s(0.00458, -10, 20) / HOUR < 2.4


@given(st.floats(0.1, 60), st.floats(1, 200), st.floats(0.0005, 0.1), st.floats(0, 30))
def test_a_coat_takes_less_time_on_a_colder_base(
    drop: float, exchange: float, ice: float, cold: float
) -> None:
    warm = freeze.coat_freeze(ice, -drop, exchange).seconds
    cool = freeze.coat_freeze(ice, -drop, exchange, base_c=-cold).seconds
    assert warm is not None
    assert cool is not None
    assert cool <= warm * (1 + 1e-9)


@given(st.floats(1, 60), st.floats(1, 500), st.floats(0.0005, 0.3))
def test_growing_for_the_time_a_coat_takes_gives_the_coat(drop: float, exchange: float, ice: float) -> None:
    seconds = freeze.time_to_grow_s(ice, -drop, exchange)
    assert freeze.growth_m(0.0, -drop, exchange, seconds) == pytest.approx(ice, rel=1e-9)


@given(st.floats(0.1, 80), st.floats(0, 1e7))
def test_stefan_is_never_less_than_neumann(drop: float, seconds: float) -> None:
    assert freeze.stefan_m(drop, seconds) >= freeze.neumann_m(drop, seconds)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 81.0])
def test_a_drop_outside_its_range_is_named(bad: float) -> None:
    with pytest.raises(OutOfRangeError, match=r"drop_k is .*; permitted: 0 to 80 K\."):
        freeze.stefan_m(bad, 60)


def test_a_slab_filled_in_hard_cold_freezes_through_in_days() -> None:
    # Common practice, no source: 15 cm of water at -12 °C and breezy takes 3-5 days, milder about a week.
    water_m = 0.15 * 1000 / 917
    assert 3 < freeze.time_to_grow_s(water_m, -12, 25) / DAY < 5
    assert 5 < freeze.time_to_grow_s(water_m, -7, 25) / DAY < 9


@pytest.mark.parametrize("air_c", [-5, -8, -15])
def test_a_thin_evening_coat_is_frozen_by_morning(air_c: float) -> None:
    # Common practice, no source: 3 mm poured at 20:00 is skateable at 7:00 from -5 °C on.
    assert freeze.time_to_grow_s(0.003 * 1000 / 917, air_c, 15) / HOUR < 11
