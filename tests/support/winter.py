"""An invented winter for tests: hours of weather, and a rink with a place, depths and a building phase."""

import datetime as dt
import math
from uuid import uuid4

from rinklog.rink.models import PhaseChange, Zone
from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.services import store_forecast, store_observations
from tests.support.cast import Cast

BUILT_ON = dt.date(2026, 1, 5)
HOUR = dt.timedelta(hours=1)


def hour(at: dt.datetime, air_c: float = -9.0, **values: float) -> Hour:
    """One cold calm hour, or as told; the air swings by 3 K through the day."""
    swing = 3.0 * math.sin((at.hour - 9) / 24 * 2 * math.pi)
    told: dict[str, float] = {"humidity_frac": 0.8, "wind_ms": 2.5, "cloud_frac": 0.4, "precip_mm": 0.0}
    return Hour(at=at, air_c=air_c + swing, **(told | values))  # type: ignore[arg-type]


def hours(first: dt.datetime, last: dt.datetime, air_c: float = -9.0, **values: float) -> list[Hour]:
    """Hours from first until before last."""
    count = round((last - first) / HOUR)
    return [hour(first + n * HOUR, air_c, **values) for n in range(count)]


def placed(cast: Cast, rows: int = 2, columns: int = 2, depth_m: float | None = 0.12) -> None:
    """Give the first rink a position, few zones of a depth, and a day on which building began."""
    rink, season = cast.rink, cast.season
    rink.latitude, rink.longitude = 61.5, 11.5
    rink.save()
    grid = season.grid
    keep = [zone.id for zone in cast.zones if zone.row < rows and zone.column < columns]
    Zone.objects.filter(grid=grid).exclude(id__in=keep).delete()
    Zone.objects.filter(grid=grid).update(depth_m=depth_m)
    PhaseChange.objects.create(
        id=uuid4(), season=season, phase="building", on=BUILT_ON, by=cast.ada, recorded_at=at(5)
    )


def at(day: int, hour: int = 12, minute: int = 0) -> dt.datetime:
    """A time of January 2026, UTC."""
    return dt.datetime(2026, 1, day, hour, minute, tzinfo=dt.UTC)


def observed(cast: Cast, first: dt.datetime, last: dt.datetime, air_c: float = -9.0, **values: float) -> None:
    """Store observed hours."""
    store_observations(
        rink=cast.rink, source="station TEST", hours=hours(first, last, air_c, **values), recorded_at=last
    )


def foretold(cast: Cast, now: dt.datetime, days: float, air_c: float = -9.0, **values: float) -> None:
    """Store a forecast made at `now`."""
    whole = now.replace(minute=0, second=0, microsecond=0)
    ahead = Parsed(hours=hours(whole, whole + dt.timedelta(days=days), air_c, **values))
    forecast = Forecast(parsed=ahead, made_at=now)
    store_forecast(rink=cast.rink, provider="met-norway", forecast=forecast, fetched_at=now)
