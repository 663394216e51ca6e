"""Where the sun stands, when it rises and sets, and how strong a clear sky is.

Our own short form of the NREL solar position algorithm: pvlib has the whole of it but takes over a second to
import, so it is the oracle of the tests instead (ours stays within 0.003° of it from 1990 to 2060).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import NamedTuple, cast

import numpy as np
from numpy.typing import NDArray

from rinklog.physics.constants import PRESSURE_PA
from rinklog.physics.sun_terms import LATITUDE, LONGITUDE, RADIUS, Terms
from rinklog.physics.validity import Num, bare, require

DELTA_T_S = 69.0
"""Terrestrial time less universal time in the 2020s [s] (IERS)."""
SUN_RADIUS_DEG = 0.26667
HORIZON_REFRACTION_DEG = 0.5667
RISE_DEG = -(SUN_RADIUS_DEG + HORIZON_REFRACTION_DEG)
"""Elevation of the sun's centre when its upper edge is seen on the horizon [°]."""


class SunPosition(NamedTuple):
    """Zenith as seen through the air, azimuth from north through east, elevation without the air [°]."""

    zenith_deg: Num
    azimuth_deg: Num
    elevation_deg: Num


@dataclass(frozen=True)
class Daylight:
    """One day's sun: rise and set are None in polar night and polar day."""

    sunrise: datetime | None
    sunset: datetime | None
    noon: datetime
    day_length_h: float


def _series(tables: tuple[Terms, ...], millennia: NDArray[np.float64]) -> NDArray[np.float64]:
    total = np.zeros_like(millennia)
    for power, rows in enumerate(tables):
        angles = rows[:, 1] + rows[:, 2] * millennia[..., None]
        total = total + (np.cos(angles) @ rows[:, 0]) * millennia**power
    return total / 1e8


def _apparent(unix_s: NDArray[np.float64], delta_t_s: float) -> tuple[NDArray[np.float64], ...]:
    """Right ascension, declination, sidereal time at Greenwich [rad] and distance [AU]."""
    day = unix_s / 86400 + 2440587.5 - 2451545.0
    century = day / 36525
    dynamic = (day + delta_t_s / 86400) / 36525
    millennia = dynamic / 10
    radius = _series(RADIUS, millennia)
    beta = -_series(LATITUDE, millennia)
    node = np.radians(125.04452 - 1934.136261 * dynamic)
    sun = np.radians(280.4665 + 36000.7698 * dynamic)
    moon = np.radians(218.3165 + 481267.8813 * dynamic)
    psi = -17.20 * np.sin(node) - 1.32 * np.sin(2 * sun) - 0.23 * np.sin(2 * moon) + 0.21 * np.sin(2 * node)
    tilt = 9.20 * np.cos(node) + 0.57 * np.cos(2 * sun) + 0.10 * np.cos(2 * moon) - 0.09 * np.cos(2 * node)
    nutation = np.radians(psi / 3600)
    obliquity = np.radians(23.4392911 - 0.0130042 * dynamic + tilt / 3600)
    aberration = np.radians(-20.4898 / 3600 / radius)
    lam = _series(LONGITUDE, millennia) + np.pi + nutation + aberration
    ascension = np.arctan2(np.sin(lam) * np.cos(obliquity) - np.tan(beta) * np.sin(obliquity), np.cos(lam))
    declination = np.arcsin(np.sin(beta) * np.cos(obliquity) + np.cos(beta) * np.sin(obliquity) * np.sin(lam))
    mean = 280.46061837 + 360.98564736629 * day + century**2 * (0.000387933 - century / 38710000)
    sidereal = np.radians(mean % 360) + nutation * np.cos(obliquity)
    return ascension, declination, sidereal, radius


def refraction_deg(elevation_deg: Num, pressure_pa: Num = PRESSURE_PA, air_c: Num = 0.0) -> Num:
    """How much the air lifts the sun; none once it is under the horizon.

    Arguments: elevation_deg without air [°], pressure_pa [Pa], air_c [°C]. Returns: [°]. Validity: any
    elevation. Source: Reda & Andreas 2004, eq. 42 (Bennett/Meeus).
    """
    up = np.asarray(elevation_deg, dtype=float) >= RISE_DEG
    e = np.where(up, elevation_deg, 0.0)
    bend = 1.02 / (60 * np.tan(np.radians(e + 10.3 / (e + 5.11))))
    return bare(np.where(up, pressure_pa / 101_000 * 283 / (273 + air_c) * bend, 0.0))


def position(
    unix_s: Num,
    latitude: Num,
    longitude: Num,
    altitude_m: Num = 0.0,
    pressure_pa: Num = PRESSURE_PA,
    air_c: Num = 0.0,
    delta_t_s: float = DELTA_T_S,
) -> SunPosition:
    """Position of the sun for a place and any array of times.

    Arguments: unix_s seconds since 1970 UTC [s], latitude north, longitude east [°], altitude_m [m],
    pressure_pa [Pa], air_c [°C], delta_t_s [s]. Returns: SunPosition [°]. Validity: 1990-2060 within 0.003°.
    Source: Reda & Andreas 2004, NREL/TP-560-34302, largest terms.
    """
    require("latitude", latitude, -90, 90, "°")
    require("longitude", longitude, -180, 180, "°")
    times = np.asarray(unix_s, dtype=float)
    ascension, declination, sidereal, radius = _apparent(times, delta_t_s)
    phi = np.radians(np.asarray(latitude, dtype=float))
    hour = sidereal + np.radians(longitude) - ascension
    parallax = np.radians(8.794 / 3600 / radius)
    flat = np.arctan(0.99664719 * np.tan(phi))
    x = np.cos(flat) + altitude_m * np.cos(phi) / 6378140
    y = 0.99664719 * np.sin(flat) + altitude_m * np.sin(phi) / 6378140
    shift = np.arctan2(
        -x * np.sin(parallax) * np.sin(hour), np.cos(declination) - x * np.sin(parallax) * np.cos(hour)
    )
    seen = np.arctan2(
        (np.sin(declination) - y * np.sin(parallax)) * np.cos(shift),
        np.cos(declination) - x * np.sin(parallax) * np.cos(hour),
    )
    local = hour - shift
    sine = np.sin(phi) * np.sin(seen) + np.cos(phi) * np.cos(seen) * np.cos(local)
    elevation = np.degrees(np.arcsin(np.clip(sine, -1, 1)))
    westward = np.arctan2(np.sin(local), np.cos(local) * np.sin(phi) - np.tan(seen) * np.cos(phi))
    zenith = 90 - elevation - refraction_deg(elevation, pressure_pa, air_c)
    return SunPosition(zenith, (np.degrees(westward) + 180) % 360, elevation)


def haurwitz_wm2(zenith_deg: Num) -> Num:
    """Sunlight on the level under a clear sky; zero when the sun is down.

    Arguments: zenith_deg [°]. Returns: [W/m²]. Validity: 0-180°. Source: Haurwitz 1945, coefficients as in
    pvlib.
    """
    require("zenith_deg", zenith_deg, 0, 180, "°")
    cosine = np.cos(np.radians(np.asarray(zenith_deg, dtype=float)))
    up = np.maximum(cosine, 1e-4)
    return bare(np.where(cosine > 0, 1098 * up * np.exp(-0.059 / up), 0.0))


def extraterrestrial_mjm2d(latitude: Num, day_of_year: Num, solar_constant: float = 0.0820) -> Num:
    """Sun's energy in a day on the level above the air.

    Arguments: latitude [°], day_of_year [1-366], solar_constant [MJ/m²/min]. Returns: [MJ/m²/d]. Validity:
    polar night gives 0. Source: FAO-56 (Allen et al. 1998), eq. 21-25.
    """
    require("latitude", latitude, -90, 90, "°")
    require("day_of_year", day_of_year, 1, 366)
    phi = np.radians(latitude)
    year = 2 * np.pi * np.asarray(day_of_year, dtype=float) / 365
    near = 1 + 0.033 * np.cos(year)
    tilt = 0.409 * np.sin(year - 1.39)
    sunset = np.arccos(np.clip(-np.tan(phi) * np.tan(tilt), -1, 1))
    lift = sunset * np.sin(phi) * np.sin(tilt) + np.cos(phi) * np.cos(tilt) * np.sin(sunset)
    return cast(Num, 24 * 60 / np.pi * solar_constant * near * lift)


def daylight(when: datetime, latitude: float, longitude: float) -> Daylight:
    """Sunrise and sunset around the solar noon of a date, seen from sea level.

    Arguments: when [aware; its date in its own offset counts], latitude, longitude [°]. Returns: Daylight,
    times in UTC, to about 10 s. Errors: ValueError without an offset. Validity: 1990-2060; rise and set are
    None in polar night (0 h) and polar day (24 h). Source: SPA position with the upper edge at -0.8334°.
    """
    if when.utcoffset() is None:
        raise ValueError("a time needs its offset from UTC")
    start = when.replace(hour=12, minute=0, second=0, microsecond=0, fold=0).timestamp()
    noon = start
    for _ in range(3):
        ascension, _, sidereal, _ = _apparent(np.asarray(noon), DELTA_T_S)
        hour = float(np.degrees(sidereal + np.radians(longitude) - ascension))
        noon -= ((hour + 180) % 360 - 180) * 240

    def height(unix_s: float) -> float:
        return float(position(unix_s, latitude, longitude).elevation_deg) - RISE_DEG

    stamp = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=round(noon))
    if height(noon) <= 0:
        return Daylight(None, None, stamp, 0.0)
    if height(noon - 43200) >= 0 and height(noon + 43200) >= 0:
        return Daylight(None, None, stamp, 24.0)
    edges = []
    for side in (-1, 1):
        dark, light = noon + side * 43200, noon
        for _ in range(24):
            middle = (dark + light) / 2
            dark, light = (middle, light) if height(middle) < 0 else (dark, middle)
        edges.append((dark + light) / 2)
    rise, fall = (datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=round(edge)) for edge in edges)
    return Daylight(rise, fall, stamp, (edges[1] - edges[0]) / 3600)
