"""Weather turned into the coefficients that the surface balance needs, once for the whole march."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from rinklog.physics.air import magnus_water_pa
from rinklog.physics.column.settings import Settings
from rinklog.physics.column.state import Floats
from rinklog.physics.constants import C_AIR_JKGK, PRESSURE_PA, SUBLIMATION_JKG, VAPOUR_RATIO
from rinklog.physics.radiation import longwave_down_wm2
from rinklog.physics.surface import exchange_wm2k
from rinklog.physics.validity import require


@dataclass(frozen=True)
class Weather:
    """Weather of R steps, each value holding over its step; arrays (R,) or (R, columns).

    Arguments: hold_s [s] each step; air_c [°C]; humidity_frac over water [0-1]; wind_ms [m/s]; cloud_frac
    [0-1]; sun_wm2 on the level [W/m²]; longwave_wm2 from the sky (None: Brutsaert 1975 with cloud);
    pressure_pa [Pa]; precip_kgm2 in each step; snow_m measured depth, which replaces marched snow.
    """

    hold_s: Floats
    air_c: ArrayLike
    humidity_frac: ArrayLike = 0.8
    wind_ms: ArrayLike = 2.0
    cloud_frac: ArrayLike = 0.5
    sun_wm2: ArrayLike = 0.0
    longwave_wm2: ArrayLike | None = None
    pressure_pa: ArrayLike = PRESSURE_PA
    precip_kgm2: ArrayLike = 0.0
    snow_m: ArrayLike | None = None


def steps_of(weather: Weather, first: int, past: int) -> Weather:
    """Some steps of a weather. Arguments: weather, first step, the one after the last. Returns: Weather."""
    steps = len(weather.hold_s)

    def part(value: Any) -> Any:
        values = np.asarray(value, dtype=float)
        cut = value is not None and values.ndim > 0 and values.shape[0] == steps
        return values[first:past] if cut else value

    return replace(weather, **{name: part(value) for name, value in vars(weather).items()})


class Forcing(NamedTuple):
    """One step's weather for the surface balance; every field is (columns,) or a broadcast view of it."""

    air_c: Floats
    vapour_pa: Floats
    sun_wm2: Floats
    longwave_wm2: Floats
    exchange_wm2k: Floats
    vapour_wm2pa: Floats
    """Latent heat of sublimation carried per pascal of difference [W/m²/Pa]."""
    rain_kgm2s: Floats
    snow_kgm2s: Floats
    wind_ms: Floats
    snow_m: Floats


def snow_share(air_c: Floats) -> Floats:
    """Share of precipitation that falls as snow: all at 0 °C, none at 2 °C, linear between.

    Arguments: air_c [°C]. Returns: [0-1]. Validity: any. Source: common practice, from memory.
    """
    return np.clip(1 - air_c / 2.0, 0.0, 1.0)


def coefficients(weather: Weather, settings: Settings, columns: int) -> Forcing:
    """Weather as arrays (steps, columns) of coefficients.

    Arguments: weather, settings, columns. Returns: Forcing of (R, columns). Errors: OutOfRangeError.
    """
    steps = len(weather.hold_s)

    def spread(value: ArrayLike, name: str, low: float, high: float, unit: str) -> Floats:
        values = np.asarray(value, dtype=float)
        require(name, values, low, high, unit)
        if values.ndim == 1:
            values = values[:, None]
        return (
            np.broadcast_to(values, (steps, columns))
            if values.size != steps
            else np.broadcast_to(values.reshape(steps, 1), (steps, columns))
        )

    air = spread(weather.air_c, "air_c", -60, 50, "°C")
    humid = spread(weather.humidity_frac, "humidity_frac", 0, 1, "")
    wind = spread(weather.wind_ms, "wind_ms", 0, 60, "m/s")
    cloud = spread(weather.cloud_frac, "cloud_frac", 0, 1, "")
    sun = spread(weather.sun_wm2, "sun_wm2", 0, 1500, "W/m²")
    pressure = spread(weather.pressure_pa, "pressure_pa", 30_000, 110_000, "Pa")
    precip = spread(weather.precip_kgm2, "precip_kgm2", 0, 500, "kg/m²")
    depth = spread(0.0 if weather.snow_m is None else weather.snow_m, "snow_m", 0, 10, "m")
    vapour = humid * magnus_water_pa(air)
    if weather.longwave_wm2 is None:
        sky = longwave_down_wm2(air, vapour, cloud)
    else:
        sky = spread(weather.longwave_wm2, "longwave_wm2", 0, 700, "W/m²")
    if settings.exchange_wm2k is None:
        exchange = exchange_wm2k(wind, air, settings.transfer, pressure)
    else:
        exchange = np.broadcast_to(np.float64(settings.exchange_wm2k), (steps, columns))
    carried = exchange * (SUBLIMATION_JKG * VAPOUR_RATIO / C_AIR_JKGK) / pressure
    fall = precip / np.asarray(weather.hold_s, dtype=float)[:, None]
    snow = fall * snow_share(air) if weather.snow_m is None else np.zeros_like(fall)
    rain = fall * (1 - snow_share(air))
    full = (air, vapour, sun, sky, exchange, carried, rain, snow, wind, depth)
    return Forcing(*(np.asarray(v, dtype=float) for v in full))


def at_step(forcing: Forcing, step: int) -> Forcing:
    """One step of coefficients. Arguments: forcing (R, columns), step. Returns: Forcing of (columns,)."""
    return Forcing(*(v[step] for v in forcing))
