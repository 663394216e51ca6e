"""Snow carried by the wind: how much, from where, and from what wind on."""

from __future__ import annotations

from typing import cast

import numpy as np

from rinklog.physics.validity import Num, bare, require

WET_THRESHOLD_MS = 9.9
"""Average wind at 10 m that moves wet snow [m/s]: Li & Pomeroy 1997."""


def transport_kgms(wind_ms: Num) -> Num:
    """Most snow the wind carries past a metre of width.

    Arguments: wind_ms at 10 m [m/s]. Returns: [kg/m/s]. Validity: 0-60 m/s, loose snow upwind. Source: Tabler
    1994, 2003, q = u^3.8 / 233847.
    """
    require("wind_ms", wind_ms, 0, 60, "m/s")
    return wind_ms**3.8 / 233_847


def relocated_kgm(fetch_m: Num, snow_water_mm: Num, far_m: float = 3000.0) -> Num:
    """Snow that a winter's wind brings from upwind, half of what falls.

    Arguments: fetch_m [m], snow_water_mm over the winter [mm of water], far_m [m]. Returns: [kg/m].
    Validity: fetch not negative. Source: Tabler 1994, Q = 0.5 T S (1 - 0.14^(F/T)).
    """
    require("fetch_m", fetch_m, 0, 1e6, "m")
    require("snow_water_mm", snow_water_mm, 0, 5000, "mm")
    return cast(Num, 0.5 * far_m * snow_water_mm * (1 - 0.14 ** (np.asarray(fetch_m) / far_m)))


def threshold_ms(air_c: Num) -> Num:
    """Wind at 10 m from which snow on the ground drifts: dry snow at and below 0 °C, wet snow above.

    Arguments: air_c [°C]. Returns: [m/s]. Validity: -60..50 °C; colder than the least of the curve (-27.3 °C)
    stays at the least. Source: Li & Pomeroy 1997.
    """
    require("air_c", air_c, -60, 50, "°C")
    cold = np.maximum(np.asarray(air_c, dtype=float), -0.18 / (2 * 0.0033))
    dry = 9.43 + 0.18 * cold + 0.0033 * cold**2
    return bare(np.where(cold > 0, WET_THRESHOLD_MS, dry))
