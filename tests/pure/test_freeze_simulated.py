"""Closed forms of freezing against an independent simulation: enthalpy on a grid, marched by scipy's LSODA."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from rinklog.physics import freeze

K, RHO, LATENT, C = 2.22, 917.0, 333_400.0, 2090.0
HOUR = 3600.0


def _hours_to_freeze(
    coat_m: float,
    air_c: float,
    exchange: float,
    base_c: float,
    base_m: float,
    k_base: float,
    heat_base: float,
) -> float:
    """Time until the last cell of a coat has lost its latent heat; the base is insulated below."""
    coat = np.full(40, coat_m / 40)
    base = np.geomspace(coat[0], coat[0] * 40, 40)
    widths = np.concatenate([coat, base * base_m / base.sum()]) if base_c < 0 else coat
    is_coat = np.arange(widths.size) < coat.size
    k = np.where(is_coat, K, k_base)
    heat = np.where(is_coat, RHO * C, heat_base)
    resistance = (widths[:-1] / k[:-1] + widths[1:] / k[1:]) / 2
    start = np.where(is_coat, RHO * LATENT, heat * base_c)

    def celsius(energy: NDArray[np.float64]) -> NDArray[np.float64]:
        cold = np.minimum(energy, 0) / heat
        return np.where(is_coat, cold, energy / heat)

    def change(_: float, energy: NDArray[np.float64]) -> NDArray[np.float64]:
        t = celsius(energy)
        down = np.diff(-t) / resistance
        top = (t[0] - air_c) / (1 / exchange + widths[0] / (2 * K))
        return np.diff(np.concatenate([[-top], down, [0.0]])) * -1 / widths

    def thawed(_: float, energy: NDArray[np.float64]) -> float:
        return float(np.maximum(energy[is_coat], 0).max()) - 1e-3 * RHO * LATENT

    thawed.terminal = True  # type: ignore[attr-defined]
    ended = solve_ivp(
        change, (0, 300 * HOUR), start, "LSODA", events=thawed, rtol=1e-5, atol=10.0, lband=1, uband=1
    )
    return float(ended.t_events[0][0]) / HOUR


@pytest.mark.parametrize(("ice_mm", "air_c", "exchange"), [(5, -10, 20), (3, -18, 12)])
def test_a_coat_on_a_base_at_freezing_agrees_with_the_simulation(
    ice_mm: float, air_c: float, exchange: float
) -> None:
    simulated = _hours_to_freeze(ice_mm / 1000, air_c, exchange, 0, 0, K, RHO * C)
    assert freeze.time_to_grow_s(ice_mm / 1000, air_c, exchange) / HOUR == pytest.approx(simulated, rel=0.02)


@pytest.mark.parametrize(
    ("ice_mm", "air_c", "exchange", "base_c", "k_base", "heat_base"),
    [(10, -10, 20, -4, 1.8, 2.0e6), (6, -7, 30, -8, K, RHO * C)],
)
def test_a_coat_on_a_thick_cold_base_agrees_with_the_simulation(
    ice_mm: float, air_c: float, exchange: float, base_c: float, k_base: float, heat_base: float
) -> None:
    simulated = _hours_to_freeze(ice_mm / 1000, air_c, exchange, base_c, 1.0, k_base, heat_base)
    coat = freeze.coat_freeze(ice_mm / 1000, air_c, exchange, base_c, None, k_base, heat_base)
    assert coat.seconds is not None
    assert coat.seconds / HOUR == pytest.approx(simulated, rel=0.03)


@pytest.mark.parametrize(("base_m", "base_c"), [(0.1, -5), (0.05, -8)])
def test_a_coat_on_a_thin_slab_agrees_with_the_simulation(base_m: float, base_c: float) -> None:
    # The plain cap ignores that the slab slows before it is spent, so this one is only good to 5 %.
    simulated = _hours_to_freeze(0.010, -10, 20, base_c, base_m, K, RHO * C)
    coat = freeze.coat_freeze(0.010, -10, 20, base_c, base_m)
    assert coat.seconds is not None
    assert coat.seconds / HOUR == pytest.approx(simulated, rel=0.05)
