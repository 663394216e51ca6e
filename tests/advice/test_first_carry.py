"""The first day it carries, against Stefan's bound, against the finer march, and one input at a time."""

import datetime as dt

import numpy as np
import pytest

from rinklog.advice.fill.first_carry import first_carry, freeze, representative
from rinklog.physics.column import Settings, Weather
from rinklog.physics.windows import first_fill
from tests.advice.fill_sky import NOW

HOURS = 120


def weather(air_c: float = -10.0, hours: int = HOURS, members: int | None = None) -> Weather:
    """Steady cold under an overcast sky."""
    shape = (hours, members) if members else (hours,)
    values = {"air_c": air_c, "humidity_frac": 0.8, "wind_ms": 3.0, "cloud_frac": 1.0, "sun_wm2": 0.0}
    values |= {"pressure_pa": 1e5, "precip_kgm2": 0.0}
    filled = {name: np.full(shape, value) for name, value in values.items()}
    return Weather(hold_s=np.full(hours, 3600.0), longwave_wm2=None, **filled)


def days(moment: dt.datetime | None) -> float:
    assert moment is not None
    return (moment - NOW) / dt.timedelta(days=1)


def test_no_ice_grows_faster_than_stefans() -> None:
    # Stefan 1891: t = ρ L h² / (2 k ΔT) = 917·333 550·0.1² / (2·2.2·10) s = 0.80 days for 10 cm at −10 °C, with no air
    # film and no sky; with them it takes longer, but not thrice as long with a wind of 3 m/s.
    carries = first_carry(weather(), NOW, [0.3], 0.10)
    assert 0.80 < days(carries.carries_at[1]) < 2.4


def test_marching_by_the_hour_agrees_with_the_fine_march() -> None:
    depth = np.array([0.04, 0.08, 0.2])
    hourly, _ = freeze(depth, weather(), 0.10)
    fine = first_fill(depth, weather(), Settings(), 0.10)
    assert hourly == pytest.approx(fine.carries_h, abs=1.0)  # its own step


def test_each_input_moves_it_the_right_way() -> None:
    def at(air_c: float = -10.0, depth: float = 0.3, wanted: float = 0.10) -> float:
        return days(first_carry(weather(air_c), NOW, [depth], wanted).carries_at[1])

    usual = at()
    assert at(air_c=-15.0) < usual < at(air_c=-6.0)
    assert at(wanted=0.05) < usual < at(wanted=0.12)
    assert at(depth=0.03) < usual


def test_the_slowest_zone_decides_and_the_band_is_in_order() -> None:
    carries = first_carry(weather(), NOW, [0.03, 0.05, 0.3], 0.10)
    low, middle, high = (days(one) for one in carries.carries_at)
    assert low <= middle <= high
    assert low < high
    assert carries.carries_at == first_carry(weather(), NOW, [0.3], 0.10).carries_at
    assert list(representative([0.3, 0.1, 0.2])) == [0.1, 0.3]


def test_a_mild_forecast_never_carries_and_says_so() -> None:
    carries = first_carry(weather(5.0, 48), NOW, [0.1], 0.10)
    assert carries.carries_at == (None, None, None)
    assert carries.never_frac == 1.0
    assert carries.ends_at == NOW + dt.timedelta(hours=48)


def test_an_older_forecast_is_less_sure() -> None:
    def width(lead_h: float) -> float:
        low, _, high = first_carry(weather(), NOW, [0.3], 0.10, lead_h=lead_h).carries_at
        return days(high) - days(low)

    assert width(96.0) > width(0.0)
