"""Drifting snow and fences: Tabler 1980, 1994, 2003 and Li & Pomeroy 1997, computed; 0.2 %."""

from __future__ import annotations

import numpy as np
import pytest

from rinklog.geometry import fence
from rinklog.physics import drift


@pytest.mark.parametrize(("wind", "per_second", "per_hour"), [(10, 0.026982, 97.134), (15, 0.12595, 453.44)])
def test_snow_carried_past_a_metre(wind: float, per_second: float, per_hour: float) -> None:
    assert drift.transport_kgms(wind) == pytest.approx(per_second, rel=2e-3)
    assert 3600 * drift.transport_kgms(wind) == pytest.approx(per_hour, rel=2e-3)


@pytest.mark.parametrize(("fetch", "water", "relocated"), [(500, 100, 41912), (3000, 80, 103200)])
def test_snow_relocated_over_a_winter(fetch: float, water: float, relocated: float) -> None:
    assert drift.relocated_kgm(fetch, water) == pytest.approx(relocated, rel=2e-3)


@pytest.mark.parametrize(("air_c", "threshold"), [(-5, 8.6125), (-20, 7.15), (-40, 6.98), (-60, 6.98)])
def test_the_wind_that_moves_dry_snow(air_c: float, threshold: float) -> None:
    # The curve's least is 6.98 m/s at -27.3 °C and colder air stays there.
    assert drift.threshold_ms(air_c) == pytest.approx(threshold, rel=2e-3)


def test_wet_snow_needs_more_wind() -> None:
    # Li & Pomeroy 1997, average 9.9 m/s.
    assert np.asarray(drift.threshold_ms(np.array([-5.0, 1.0])))[1] == pytest.approx(9.9)


@pytest.mark.parametrize(("height", "capacity", "setback"), [(1.2, 12.695, 42), (2.0, 39.056, 70)])
def test_a_half_open_fence(height: float, capacity: float, setback: float) -> None:
    assert fence.capacity_tm(height) == pytest.approx(capacity, rel=2e-3)
    assert fence.setback_m(height) == pytest.approx(setback)


def test_a_fence_for_an_amount_of_snow() -> None:
    assert fence.height_m(20) == pytest.approx(1.4754, rel=2e-3)


def test_the_lee_drift_of_1980() -> None:
    found = (fence.drift_area_m2(1.2), *fence.drift_m(1.2), fence.drift_water_m3m(1.2))
    assert found == pytest.approx((27.792, 36, 1.44, 10.119), rel=2e-3)


def test_the_gap_lies_within_the_published_range() -> None:
    # Tabler: 10-15 % of the height, second hand.
    assert 0.10 <= fence.GAP_FRAC <= 0.15
