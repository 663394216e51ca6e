"""A rink before its first ice, for tests: depths, a hose, a forecast from now on, a fill and a hole in it."""

import datetime as dt
from uuid import uuid4

from rinklog.rink.models import Zone
from rinklog.rink.seasons import enter_phase
from rinklog.rink.services import add_bucket_test
from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.services import store_forecast
from rinklog.work.models import Entry
from tests.support.cast import Cast

HOUR = dt.timedelta(hours=1)
FILL_M3 = 78.6  # 0.1 m on the 786.27 m² of the cast's rink: 40·20 − (4 − π)·4² m²


def basin(cast: Cast, depth_m: float = 0.1, flow_ls: float = 0.5) -> None:
    """Survey every zone to one depth, place the rink, and time a bucket."""
    Zone.objects.filter(grid=cast.season.grid).update(depth_m=depth_m)
    cast.rink.latitude, cast.rink.longitude = 60.2, 11.1
    cast.rink.save()
    test = {"hose": "barn", "water_m3": flow_ls / 1000 * 40, "seconds": 40.0}
    add_bucket_test(id=uuid4(), rink=cast.rink, by=cast.ada, now=dt.datetime.now(dt.UTC), **test)  # type: ignore[arg-type]


def forecast(cast: Cast, now: dt.datetime, *, days: int = 9, air_c: float = -9.0, **values: float) -> None:
    """A forecast alike in every hour from now on: calm and dry unless told."""
    begins = now.replace(minute=0, second=0, microsecond=0)
    usual = {
        "humidity_frac": 0.8,
        "wind_ms": 2.0,
        "gust_ms": 3.0,
        "cloud_frac": 0.6,
        "precip_mm": 0.0,
    } | values
    hours = [Hour(at=begins + n * HOUR, air_c=air_c, **usual) for n in range(24 * days)]  # type: ignore[arg-type]
    store_forecast(
        rink=cast.rink, provider="met-norway", forecast=Forecast(Parsed(hours=hours), now), fetched_at=now
    )


def building(cast: Cast, now: dt.datetime) -> None:
    """Building began today."""
    today = now.date()
    enter_phase(id=uuid4(), season=cast.season, phase="building", on=today, today=today, by=cast.ada, now=now)


def filled(cast: Cast, now: dt.datetime, water_m3: float = FILL_M3) -> Entry:
    """A first fill of the whole rink."""
    everywhere = tuple(zone.id for zone in cast.zones)
    return cast.flood(now=now, zone_ids=everywhere, water_m3=water_m3)


def hole(cast: Cast, now: dt.datetime, *, clear_m: float, under_m: float) -> Entry:
    """A hole in the first zone: ice, and water beneath."""
    return cast.work("drill-hole", now=now, details={"clear_ice_m": clear_m, "water_below_m": under_m})
