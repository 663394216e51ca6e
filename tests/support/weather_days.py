"""Days of invented weather with everything in it: frost and thaw, wind, snow and rain, sun and cloud."""

import datetime as dt
import math

from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.services import store_forecast, store_observations
from tests.support.cast import NOW, Cast

HOUR, DAY = dt.timedelta(hours=1), dt.timedelta(days=1)
START = dt.datetime(2026, 1, 12, 23, tzinfo=dt.UTC)  # midnight in Oslo


def an_hour(n: int) -> Hour:
    """Hour n of the series: a swing over the day, snow on the second and rain on the fifth, wind that turns."""
    at = START + n * HOUR
    swing = math.sin((at.hour - 9) / 24 * 2 * math.pi)
    air = round(-7 + 4 * swing + 8 * math.exp(-(((n - 110) / 14) ** 2)), 1)
    wind = round(3 + 2.5 * math.sin(n / 17) + 4 * math.exp(-(((n - 78) / 8) ** 2)), 1)
    fell = 0.6 if 28 <= n < 36 else 1.4 if 104 <= n < 112 else 0.0
    cloud = min(1.0, max(0.0, 0.5 + 0.5 * math.sin(n / 11)))
    return Hour(
        at=at,
        air_c=air,
        dew_point_c=round(air - 2.2 - swing, 1),
        humidity_frac=0.8,
        wind_ms=wind,
        gust_ms=round(1.6 * wind, 1),
        wind_from_deg=float((200 + 3 * n) % 360),
        cloud_frac=round(cloud, 2),
        precip_mm=fell,
        snow_m=0.08 if n >= 36 else 0.03,
    )


def a_week_of_weather(cast: Cast, *, placed: bool = True) -> None:
    """Observed until NOW (but for a gap of five hours), foretold from then on; the rink lies at 60.2° N 11.1° E."""
    if placed:
        cast.rink.latitude, cast.rink.longitude = 60.2, 11.1
        cast.rink.save()
    seen = [hour for n in range(200) if (hour := an_hour(n)).at <= NOW and not 15 <= n < 20]
    store_observations(rink=cast.rink, source="station ENXX", hours=seen, recorded_at=NOW)
    made = NOW - HOUR
    ahead = Parsed([an_hour(n) for n in range(60, 200)])
    store_forecast(
        rink=cast.rink, provider="met-norway", forecast=Forecast(ahead, made), fetched_at=NOW - HOUR / 2
    )
