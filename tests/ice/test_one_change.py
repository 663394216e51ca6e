"""Another rink, another grid, another winter: change one input at a time, and each number moves the right way."""

import datetime as dt
from collections.abc import Callable
from uuid import uuid4

import pytest

from rinklog.ice.queries import outlook_hours
from rinklog.ice.services import project
from rinklog.ice.summing import Estimate, ZoneIce
from rinklog.rink.models import PhaseChange, Rink, Zone
from rinklog.rink.services import RinkSize, make_rink
from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.models import ForecastRun, Observation
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.services import store_forecast, store_observations
from tests.support.cast import Cast, make_cast

BEGAN = dt.datetime(2027, 2, 2, 18, tzinfo=dt.UTC)
NOW = BEGAN + dt.timedelta(days=2, hours=2, minutes=20)
HOUR = dt.timedelta(hours=1)


@pytest.fixture
def yard(db: None) -> Cast:
    """A small rink of 3 x 2 zones at 45 degrees north, flooded in one go and never surveyed, in snowy mild frost."""
    cast = make_cast()
    cast.rink = make_rink(
        name="Quarry Yard", place="Rimvinkel", size=RinkSize(18, 9, 1), time_zone="America/Toronto", rows=3, columns=2,
        starts_on=dt.date(2027, 1, 10), now=NOW,
    )  # fmt: skip
    Rink.objects.filter(id=cast.rink.id).update(latitude=45.4, longitude=-75.7)
    cast.rink.refresh_from_db()
    blow(cast)
    pour(cast, BEGAN, 12.0)
    return cast


def blow(cast: Cast, air_c: float = -7.0, ahead_c: float = -7.0, **values: float) -> None:
    """Replace all weather: the days until now as observed, a day more as foretold."""
    ForecastRun.objects.filter(rink=cast.rink).delete()
    Observation.objects.filter(rink=cast.rink).delete()
    told: dict[str, float] = {"humidity_frac": 0.75, "wind_ms": 3.0, "cloud_frac": 0.3, "precip_mm": 0.05}

    def hour(n: int, air: float) -> Hour:
        return Hour(BEGAN + n * HOUR, air, **(told | values))  # type: ignore[arg-type]

    store_observations(
        rink=cast.rink, source="station YARD", hours=[hour(n, air_c) for n in range(51)], recorded_at=NOW
    )
    ahead = Parsed(hours=[hour(n, ahead_c) for n in range(50, 50 + 24)])
    store_forecast(rink=cast.rink, provider="us-nws", forecast=Forecast(ahead, NOW), fetched_at=NOW)


def pour(cast: Cast, at: dt.datetime, water_m3: float, zones: list[Zone] | None = None) -> None:
    cast.flood(now=NOW, started_at=at, water_m3=water_m3, zone_ids=tuple(z.id for z in zones or cast.zones))


def seen(cast: Cast, zone: int = 0) -> ZoneIce:
    return estimate(cast).zones[cast.zones[zone].id]


def estimate(cast: Cast) -> Estimate:
    made = project(rink=cast.rink, now=NOW)
    assert made is not None
    return made


def ice_mm(cast: Cast, zone: int = 0) -> float:
    return seen(cast, zone).thickness_m.middle * 1000


WEATHER: dict[str, tuple[dict[str, float], Callable[[ZoneIce], float], int]] = {
    "colder: more ice": ({"air_c": -12.0}, lambda one: one.thickness_m.middle, +1),
    "milder: less ice": ({"air_c": -3.0}, lambda one: one.thickness_m.middle, -1),
    "a thaw: water on top": ({"air_c": 6.0, "precip_mm": 0.0}, lambda one: one.wet_top_m.middle, +1),
    "colder: a colder surface": ({"air_c": -12.0}, lambda one: one.surface_c, -1),
    "more snow: more lies": ({"precip_mm": 0.6}, lambda one: one.snow_m.middle, +1),
    "more snow: less ice": ({"precip_mm": 0.6}, lambda one: one.thickness_m.middle, -1),
    "more wind: more ice": ({"wind_ms": 8.0}, lambda one: one.thickness_m.middle, +1),
    "more ice leaves less water under it": ({"air_c": -12.0}, lambda one: one.water_under_m, -1),
}


@pytest.mark.parametrize("name", WEATHER)
def test_another_weather_moves_each_number_the_right_way(yard: Cast, name: str) -> None:
    changed, of, way = WEATHER[name]
    before = of(seen(yard))
    blow(yard, **changed)
    assert (of(seen(yard)) - before) * way > 0


def test_another_forecast_moves_only_the_hours_to_come(yard: Cast) -> None:
    before, hours = estimate(yard), outlook_hours(yard.rink)
    blow(yard, ahead_c=-15.0)
    after, colder = estimate(yard), outlook_hours(yard.rink)
    assert {zone: one.thickness_m.low for zone, one in before.zones.items()} == pytest.approx(
        {zone: one.thickness_m.low for zone, one in after.zones.items()}, abs=3e-4
    )
    assert colder[-1].thinnest_m.middle > hours[-1].thinnest_m.middle
    assert colder[-1].air_c.middle < hours[-1].air_c.middle - 6


def test_work_moves_the_zones_it_was_done_on(yard: Cast) -> None:
    blow(yard, precip_mm=0.4)
    here, there = ice_mm(yard, 0), ice_mm(yard, 5)
    snow = seen(yard).snow_m.middle
    yard.work("snow-removal", now=NOW, started_at=BEGAN + 40 * HOUR, zone_ids=(yard.zones[0].id,))
    assert ice_mm(yard, 0) > here
    assert seen(yard, 0).snow_m.middle < snow
    assert ice_mm(yard, 5) == there


def test_a_fresh_flood_is_wet_now_and_frozen_later(yard: Cast) -> None:
    blow(yard, air_c=-12.0, precip_mm=0.0)
    assert seen(yard).wet_top_m.middle == 0
    pour(yard, NOW - dt.timedelta(minutes=30), 0.08, [yard.zones[0]])
    fresh = seen(yard)
    # 80 l on one of six zones of 27 m² less a corner: 3 mm.
    assert 0.0015 < fresh.wet_top_m.middle < 0.0035
    assert fresh.frozen_since is None
    assert (
        min(one.wettest_m.middle for one in outlook_hours(yard.rink)) < 0.0005
    )  # at night; the sun melts by day


def test_shade_and_a_survey_move_the_zone_they_belong_to(yard: Cast) -> None:
    blow(yard, air_c=-2.0, cloud_frac=0.0, precip_mm=0.0)
    before = ice_mm(yard, 2)
    Zone.objects.filter(id=yard.zones[2].id).update(sun="shade")
    assert ice_mm(yard, 2) > before
    Zone.objects.filter(grid=yard.season.grid, row=0).update(depth_m=0.10)
    Zone.objects.filter(grid=yard.season.grid, row__gt=0).update(depth_m=0.02)
    deep, shallow = seen(yard, 0), seen(yard, 4)
    # A fill of more than 40 mm finds its level: the deep row has 8 cm more water than the others.
    assert deep.water_under_m - shallow.water_under_m > 0.05


def test_weather_that_begins_long_after_the_water_leaves_the_ice_unknown_until_somebody_drills(
    yard: Cast,
) -> None:
    PhaseChange.objects.create(
        id=uuid4(),
        season=yard.season,
        phase="building",
        on=dt.date(2027, 1, 12),
        by=yard.ada,
        recorded_at=NOW,
    )
    Zone.objects.filter(grid=yard.season.grid).update(depth_m=0.2)
    Observation.objects.filter(rink=yard.rink, at__lt=NOW - 30 * HOUR).delete()
    yard.work("flood", now=NOW, started_at=BEGAN - 15 * 24 * HOUR, water_m3=0.3, details=DETAILS)
    unknown = seen(yard).thickness_m
    assert unknown.high - unknown.low > 0.05
    yard.work(
        "drill-hole",
        now=NOW,
        started_at=NOW - HOUR,
        zone_ids=(yard.zones[0].id,),
        details={"clear_ice_m": 0.09},
    )
    drilled = seen(yard).thickness_m
    assert drilled.high - drilled.low < 0.03
    assert 0.08 < drilled.middle < 0.10


DETAILS = {"by": "amount", "water": "cold", "tool": "hose"}
