"""Fences against the wind record and against what was seen: Tabler's figures, hours written out by hand."""

import datetime as dt
from uuid import uuid4

import pytest

from rinklog.facts import Conflict, Refused
from rinklog.site.queries.fences import held, record
from rinklog.site.services.fences import keep_exposure, look_at_fence
from rinklog.weather.hours import Hour
from rinklog.weather.services import store_observations
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.sites import a_fence


def wind(cast: Cast, *hours: tuple[float | None, float | None, float | None], days_ago: int = 20) -> None:
    """Hours in a row that somebody measured: wind [m/s], where from [°], air [°C]."""
    start = NOW.replace(minute=0) - dt.timedelta(days=days_ago)
    store_observations(
        rink=cast.rink,
        source="file",
        hours=[
            Hour(at=start + dt.timedelta(hours=n), wind_ms=speed, wind_from_deg=from_deg, air_c=air)
            for n, (speed, from_deg, air) in enumerate(hours)
        ],
        recorded_at=NOW,
    )


def test_the_stored_weather_says_what_comes_from_where(cast: Cast) -> None:
    wind(
        cast,
        (15.0, 315.0, -5.0),
        (10.0, 300.0, -5.0),
        (10.0, 180.0, -5.0),
        (12.0, None, -5.0),
        (None, 90.0, 1.0),
    )
    wind(cast, (20.0, 315.0, -5.0), days_ago=370)  # another winter
    found = record(cast.rink, NOW)
    comes = {one.name: one.comes_tm for one in found.sectors if one.comes_tm}
    # 453.44 and 97.134 kg/m an hour at 15 and 10 m/s: Tabler 1994, reference values of the task.
    assert comes == {"NW": pytest.approx(0.55057, rel=2e-3), "S": pytest.approx(0.097134, rel=2e-3)}
    assert found.hours == 3
    assert found.worst is not None
    assert found.worst.name == "NW"


def test_no_wind_brings_nothing_and_no_fence_is_asked_for(cast: Cast) -> None:
    found = record(cast.rink, NOW)
    assert (found.hours, found.worst) == (0, None)


def test_a_fence_stands_against_its_own_wind(cast: Cast) -> None:
    near = a_fence(cast, setback_m=30.0, height_m=1.2)
    low = a_fence(cast, name="low", wind_from_deg=180.0, height_m=0.3)
    wind(cast, *[(25.0, 180.0, -5.0)] * 12, (15.0, 315.0, -5.0))
    drift = put_up(cast, kind="drift", wind_from_deg=200.0, drift_depth_m=0.3)
    found = {one.fence.id: one for one in held(cast.rink, cast.season, record(cast.rink, NOW))}
    # 1.2 m hold 12.695 t/m and want 42 m (reference values of the task); 0.3 m hold 8.5 · 0.3^2.2 = 0.6014 t/m.
    assert found[near.id].capacity_tm == pytest.approx(12.695, rel=2e-3)
    assert found[near.id].setback_wanted_m == pytest.approx(42.0)
    assert (found[near.id].too_near, found[near.id].overflows, found[near.id].drifts) == (True, False, [])
    assert found[low.id].capacity_tm == pytest.approx(0.6014, rel=1e-3)
    assert (found[low.id].overflows, found[low.id].share, found[low.id].drifts) == (True, 1.0, [drift])


def test_the_snow_that_lies_upwind_is_the_most_that_can_come(cast: Cast) -> None:
    wind(cast, *[(30.0, 315.0, -5.0)] * 24)
    keep_exposure(rink=cast.rink, fetches_m=[None] * 7 + [500.0], snow_water_mm=100.0)
    worst = record(cast.rink, NOW).worst
    assert worst is not None
    assert worst.comes_tm == pytest.approx(41.912, rel=2e-3)  # reference value of the task
    assert worst.potential_tm > worst.comes_tm


def test_a_look_is_kept_once_and_not_before_it_was(cast: Cast) -> None:
    fence, id = a_fence(cast), uuid4()
    said = {
        "id": id,
        "fence": fence,
        "reach_m": 22.0,
        "depth_m": 0.9,
        "note": "",
        "by": cast.cleo,
        "now": NOW,
    }
    for _ in "12":
        look_at_fence(on=NOW.date(), today=NOW.date(), **said)  # type: ignore[arg-type]
    assert fence.looks.count() == 1
    with pytest.raises(Conflict):
        look_at_fence(on=NOW.date(), today=NOW.date(), **said | {"reach_m": 30.0})  # type: ignore[arg-type]
    with pytest.raises(Refused, match="still to come"):
        look_at_fence(on=dt.date(2026, 2, 1), today=NOW.date(), **said | {"id": uuid4()})  # type: ignore[arg-type]
