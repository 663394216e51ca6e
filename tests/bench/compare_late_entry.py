"""A flood that is told three days late: the whole re-estimate of a large rink over a straight march of three days."""

import datetime as dt
import math
from uuid import uuid4

import numpy as np

from tests.bench.measure import Row, alternate, at_most, comparison
from tests.bench.one import database

NOW = dt.datetime(2026, 1, 20, 15, 10, tzinfo=dt.UTC)
HOUR, DAY = dt.timedelta(hours=1), dt.timedelta(days=1)
ROWS, COLUMNS, MEMBERS = 12, 6, 50
BACK, SEASON, AHEAD = 72, 14 * 24, 240


def hours(first: dt.datetime, count: int):
    """A cold spell with snow every third day."""
    from rinklog.weather.hours import Hour

    def one(at: dt.datetime) -> Hour:
        swing = math.sin((at.hour - 9) / 24 * 2 * math.pi)
        snow = 0.4 if at.day % 3 == 0 and at.hour < 8 else 0.0
        return Hour(at, -8 + 4 * swing, humidity_frac=0.8, wind_ms=2.5, cloud_frac=0.5, precip_mm=snow)

    return [one(first + n * HOUR) for n in range(count)]


def prepare():
    """A rink of 72 zones two weeks into its ice, with its weather observed and foretold, and a flood every evening."""
    database()
    from rinklog.rink.models import PhaseChange, Zone
    from rinklog.rink.services import RinkSize, make_rink
    from rinklog.weather.hours import Parsed
    from rinklog.weather.providers.answer import Forecast
    from rinklog.weather.services import store_forecast, store_observations
    from tests.support.cast import make_cast

    cast, began = make_cast(), NOW.replace(minute=0) - SEASON * HOUR
    cast.rink = make_rink(
        name="Bench Rink", place="Rimvinkel", size=RinkSize(60, 30, 0), time_zone="Europe/Oslo", rows=ROWS,
        columns=COLUMNS, starts_on=began.date() - 7 * DAY, now=NOW,
    )  # fmt: skip
    cast.rink.latitude, cast.rink.longitude = 61.5, 11.5
    cast.rink.save()
    Zone.objects.filter(grid=cast.season.grid).update(depth_m=0.15)
    Zone.objects.filter(grid=cast.season.grid, column=0).update(sun="shade")
    PhaseChange.objects.create(
        id=uuid4(), season=cast.season, phase="building", on=began.date(), by=cast.ada, recorded_at=began
    )
    store_observations(
        rink=cast.rink, source="station", hours=hours(began - DAY, SEASON + 39), recorded_at=NOW
    )
    ahead = Forecast(Parsed(hours=hours(NOW.replace(minute=0), AHEAD)), NOW)
    store_forecast(rink=cast.rink, provider="met-norway", forecast=ahead, fetched_at=NOW)
    for day in range(2, 14):
        flood(cast, NOW - day * DAY + 5 * HOUR, 3.0)
    return cast


def flood(cast, at: dt.datetime, water_m3: float) -> None:
    """A coat over the whole rink."""
    zones = tuple(zone.id for zone in cast.zones)
    cast.flood(by=cast.ada, now=at, zone_ids=zones, water_m3=water_m3)


@comparison("late-entry")
def late_entry() -> Row:
    """One background task: reading, 72 zones x 50 members from the last checkpoint that holds, weights, storing."""
    cast = prepare()
    from rinklog.ice import reading, services
    from rinklog.ice.marching import STEP_S
    from rinklog.ice.models import Checkpoint
    from rinklog.ice.state import SETTINGS, unpacked
    from rinklog.physics.column import march

    services.project(rink=cast.rink, now=NOW)
    told = 0

    def ours() -> None:
        nonlocal told
        told += 1
        flood(cast, NOW - BACK * HOUR, 2.0 + told / 10)
        assert services.project(rink=cast.rink, now=NOW) is not None

    start = NOW.replace(minute=0) - (BACK + 3) * HOUR
    row = Checkpoint.objects.get(season=cast.season, at=start)
    column = unpacked(bytes(row.state), start).column
    assert column.columns == ROWS * COLUMNS * MEMBERS
    weather = reading.read(cast.rink, NOW).inputs.weather.between(start, BACK)

    def straight() -> None:
        march(column, weather, SETTINGS, step_s=STEP_S, shade_frac=np.zeros(column.columns))

    mine, plain = alternate(ours, straight, rounds=3, warm=0)
    hours_marched = (NOW - start) / HOUR
    note = f"marches {hours_marched:.0f} h of the rink, from a checkpoint, and {AHEAD} h of outlook"
    return at_most("late-entry", mine, plain, times=1.5, unit="s", note=note)
