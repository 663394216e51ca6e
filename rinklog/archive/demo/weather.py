"""The invented winter hour by hour: what a station in Rimvinkel would have seen, and a forecast of the next ten days."""

import datetime as dt
import math

from rinklog.archive.demo.calendar import Days
from rinklog.archive.demo.winter import BLEW_FROM_DEG, BLOWS_MS, Weather, weather
from rinklog.crew.models import Person
from rinklog.rink.models import Rink
from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.humid import dew_point_c
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.services import store_forecast, store_observations
from rinklog.weather.sources import Wish, choose_sources

STATION, FORECAST = "station Rimvinkel", "invented forecast"
ALTITUDE_M = 420.0
AHEAD_DAYS = 10
COLDEST_AT, WARMEST_AT = 6, 14
SNOW_HOURS, RAIN_HOURS = range(0, 6), range(8, 16)
RAIN_MM = 0.6  # an hour
SNOW_MM_PER_M = 100.0  # fresh snow of 100 kg/m³
CLOUD = {"clear": 0.1, "cloudy": 0.8, "snowing": 1.0, "raining": 1.0}


def hours(first: dt.datetime, last: dt.datetime, days: Days, length: int) -> list[Hour]:
    """The invented hours from `first` until before `last`."""
    found, at = [], first
    while at < last:
        found.append(_hour(at, days, length))
        at += dt.timedelta(hours=1)
    return found


def _hour(at: dt.datetime, days: Days, length: int) -> Hour:
    local = at.astimezone(days.zone)
    day = (local.date() - days.date(0)).days
    now, clock = weather(day, length), local.hour
    air = round(_air(clock, weather(day - 1, length), now, weather(day + 1, length)), 1)
    damp = 0.95 if now.sky in ("snowing", "raining") else 0.82
    wind = round(now.wind_ms * (0.75 + 0.35 * math.sin(math.pi * clock / 24)), 1)
    return Hour(
        at=at,
        air_c=air,
        humidity_frac=damp,
        dew_point_c=dew_point_c(air, damp),
        wind_ms=wind,
        gust_ms=round(1.6 * wind, 1),
        wind_from_deg=BLEW_FROM_DEG if day in BLOWS_MS else float((310 + 40 * math.sin(day)) % 360),
        cloud_frac=CLOUD[now.sky],
        precip_mm=_precip(now, clock),
    )


def _air(clock: int, before: Weather, now: Weather, after: Weather) -> float:
    """Half waves between the coldest hour of the morning and the warmest of the afternoon."""
    if clock < COLDEST_AT:
        return _wave(before.noon_c, now.night_c, (clock + 24 - WARMEST_AT) / (24 - WARMEST_AT + COLDEST_AT))
    if clock < WARMEST_AT:
        return _wave(now.night_c, now.noon_c, (clock - COLDEST_AT) / (WARMEST_AT - COLDEST_AT))
    return _wave(now.noon_c, after.night_c, (clock - WARMEST_AT) / (24 - WARMEST_AT + COLDEST_AT))


def _wave(first: float, last: float, way: float) -> float:
    return first + (last - first) * (1 - math.cos(math.pi * way)) / 2


def _precip(now: Weather, clock: int) -> float:
    if now.snow_m and clock in SNOW_HOURS:
        return round(now.snow_m * SNOW_MM_PER_M / len(SNOW_HOURS), 2)
    return RAIN_MM if now.sky == "raining" and clock in RAIN_HOURS else 0.0


def make_weather(rink: Rink, keeper: Person, days: Days, length: int) -> None:
    """Observations since the season began, one forecast from now on; no service outside is switched on."""
    now = days.now.replace(minute=0, second=0, microsecond=0)
    choose_sources(rink=rink, wish=Wish((), altitude_m=ALTITUDE_M), by=keeper, now=days.at(-length, 18))
    seen = hours(days.at(-length, 0), now, days, length)
    store_observations(rink=rink, source=STATION, hours=seen, recorded_at=days.now)
    ahead = hours(now, now + dt.timedelta(days=AHEAD_DAYS), days, length)
    told = Forecast(Parsed(ahead), made_at=now)
    store_forecast(rink=rink, provider=FORECAST, forecast=told, fetched_at=days.now)
