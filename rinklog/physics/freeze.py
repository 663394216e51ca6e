"""How fast water freezes: exact, quasi-steady, through an air film and snow, and from a cold base as well."""

from __future__ import annotations

import math
from typing import NamedTuple, cast

import numpy as np

from rinklog.physics.constants import C_ICE_JKGK, K_ICE_WMK, LATENT_JKG, RHO_ICE_KGM3
from rinklog.physics.validity import Num, bare, require

DROP_K = (0.0, 80.0)
EXCHANGE_WM2K = (1.0, 1000.0)
SECONDS = (0.0, 4e8)


class CoatFreeze(NamedTuple):
    """How long a coat takes [s], how much of it froze from below [m], and the most the base could freeze [m].

    `seconds` and `from_below_m` are None when it never freezes, `cold_limit_m` when the base is thick.
    """

    seconds: float | None
    from_below_m: float | None
    cold_limit_m: float | None


def stefan_number(drop_k: Num, c_ice_jkgk: float = C_ICE_JKGK, latent_jkg: float = LATENT_JKG) -> Num:
    """Sensible over latent heat of ice cooled by drop_k.

    Arguments: drop_k below freezing [K], c_ice_jkgk, latent_jkg. Returns: [1]. Validity: 0-80 K. Source:
    definition.
    """
    require("drop_k", drop_k, *DROP_K, "K")
    return c_ice_jkgk * drop_k / latent_jkg


def front_root(stefan: float, beta: float = 0.0) -> float:
    """Root of sqrt(pi) x exp(x²) (beta + erf x) = stefan by Newton; beta 0 is Neumann's one-phase front.

    Arguments: stefan number [1], beta ratio of thermal effusivities ice/base [1]. Returns: [1].
    Validity: stefan 0-10, beta not negative. Source: Carslaw & Jaeger 1959 ch. XI; Crank 1984 eq. 3.14.
    """
    require("stefan", stefan, 0, 10)
    require("beta", beta, 0, 1e6)
    if stefan == 0:
        return 0.0
    x = math.sqrt(stefan / 2) if beta == 0 else stefan / (math.sqrt(math.pi) * beta + math.sqrt(2 * stefan))
    for _ in range(60):
        growth = math.sqrt(math.pi) * math.exp(x * x)
        value = growth * x * (beta + math.erf(x)) - stefan
        slope = growth * (1 + 2 * x * x) * (beta + math.erf(x)) + 2 * x
        step = value / slope
        x = max(x - step, x / 4)
        if abs(step) < 1e-15 * x:
            break
    return x


def neumann_m(
    drop_k: float,
    seconds: Num,
    k_ice_wmk: float = K_ICE_WMK,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    latent_jkg: float = LATENT_JKG,
    c_ice_jkgk: float = C_ICE_JKGK,
) -> Num:
    """Ice under a surface suddenly held below freezing, exact, water at freezing.

    Arguments: drop_k below freezing [K], seconds [s], material constants. Returns: [m]. Validity: 0-80 K.
    Source: Neumann, in Carslaw & Jaeger 1959 ch. XI.
    """
    require("seconds", seconds, *SECONDS, "s")
    root = front_root(float(stefan_number(drop_k, c_ice_jkgk, latent_jkg)))
    return cast(Num, 2 * root * np.sqrt(k_ice_wmk / (rho_ice_kgm3 * c_ice_jkgk) * np.asarray(seconds)))


def stefan_m(
    drop_k: Num,
    seconds: Num,
    k_ice_wmk: float = K_ICE_WMK,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    latent_jkg: float = LATENT_JKG,
) -> Num:
    """Ice under a surface held below freezing, quasi-steady; a little more than Neumann's.

    Arguments: drop_k below freezing [K], seconds [s], material constants. Returns: [m]. Validity: 0-80 K.
    Source: Stefan 1891.
    """
    require("drop_k", drop_k, *DROP_K, "K")
    require("seconds", seconds, *SECONDS, "s")
    return cast(Num, np.sqrt(2 * k_ice_wmk * np.asarray(drop_k) * seconds / (rho_ice_kgm3 * latent_jkg)))


def growth_m(
    start_m: Num,
    air_c: Num,
    exchange_wm2k: Num,
    seconds: Num,
    snow_m: Num = 0.0,
    snow_k_wmk: Num = 1.0,
    k_ice_wmk: float = K_ICE_WMK,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    latent_jkg: float = LATENT_JKG,
) -> Num:
    """Thickness after steady cold through an air film and snow; air above 0 °C neither adds nor melts.

    Arguments: start_m [m], air_c [°C], exchange_wm2k [W/m²/K], seconds [s], snow_m [m], snow_k_wmk,
    constants. Returns: [m]. Validity: -80..60 °C, 1-1000 W/m²/K. Source: Ashton 1989, closed form.
    """
    require("air_c", air_c, -80, 60, "°C")
    require("exchange_wm2k", exchange_wm2k, *EXCHANGE_WM2K, "W/m²/K")
    require("seconds", seconds, *SECONDS, "s")
    require("start_m", start_m, 0, 20, "m")
    require("snow_m", snow_m, 0, 10, "m")
    require("snow_k_wmk", snow_k_wmk, 0.005, 3, "W/m/K")
    drop = np.maximum(-np.asarray(air_c, dtype=float), 0.0)
    film = k_ice_wmk * (1 / np.asarray(exchange_wm2k) + snow_m / np.asarray(snow_k_wmk))
    return _thickened_m(start_m, film, 2 * k_ice_wmk * drop * seconds / (rho_ice_kgm3 * latent_jkg))


def _thickened_m(start_m: Num, film_m: Num, grown_m2: Num) -> Num:
    """Root of (h + film)² = (start + film)² + grown, in a form that keeps its digits when little grows."""
    behind = film_m + start_m
    return cast(Num, start_m + grown_m2 / (np.sqrt(behind**2 + grown_m2) + behind))


def time_to_grow_s(
    ice_m: Num,
    air_c: Num,
    exchange_wm2k: Num,
    k_ice_wmk: float = K_ICE_WMK,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    latent_jkg: float = LATENT_JKG,
) -> Num:
    """Time for a coat to freeze from the top alone, base at 0 °C; infinite when the air is not below 0.

    Arguments: ice_m of ice (water depth x 1000/917) [m], air_c [°C], exchange_wm2k [W/m²/K], constants.
    Returns: [s]. Validity: -80..60 °C, 1-1000 W/m²/K. Source: Ashton 1989, inverted.
    """
    require("air_c", air_c, -80, 60, "°C")
    require("exchange_wm2k", exchange_wm2k, *EXCHANGE_WM2K, "W/m²/K")
    require("ice_m", ice_m, 0, 20, "m")
    load = np.asarray(ice_m, dtype=float)
    heat = rho_ice_kgm3 * latent_jkg * (load**2 / (2 * k_ice_wmk) + load / exchange_wm2k)
    drop = np.asarray(-np.asarray(air_c), dtype=float)
    return bare(np.where(drop > 0, heat / np.where(drop > 0, drop, 1.0), np.inf))


def cold_limit_m(
    base_m: Num,
    base_c: Num,
    base_heat_jm3k: float = RHO_ICE_KGM3 * C_ICE_JKGK,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    latent_jkg: float = LATENT_JKG,
) -> Num:
    """Most ice that the cold stored in a slab can freeze.

    Arguments: base_m [m], base_c [°C], base_heat_jm3k [J/m³/K], constants. Returns: [m]. Validity: -80..0 °C.
    Source: heat balance.
    """
    require("base_m", base_m, 0, 20, "m")
    require("base_c", base_c, -80, 0, "°C")
    return -base_heat_jm3k * base_c * base_m / (rho_ice_kgm3 * latent_jkg)


def coat_freeze(
    ice_m: float,
    air_c: float,
    exchange_wm2k: float,
    base_c: float = 0.0,
    base_m: float | None = None,
    base_k_wmk: float | None = None,
    base_heat_jm3k: float | None = None,
    k_ice_wmk: float = K_ICE_WMK,
    rho_ice_kgm3: float = RHO_ICE_KGM3,
    latent_jkg: float = LATENT_JKG,
    c_ice_jkgk: float = C_ICE_JKGK,
) -> CoatFreeze:
    """Time for a thin flood to freeze through from the air above and the cold base below.

    Arguments: ice_m of ice [m], air_c [°C], exchange_wm2k [W/m²/K], base_c before the flood [°C], base_m of
    the slab [m, thick when None], base_k_wmk and base_heat_jm3k of the base (ice when None), constants.
    Returns: CoatFreeze. Validity: base much thicker than the coat, -80..0 °C; a thin slab slows somewhat
    before its cold is spent, which the plain cap here ignores. Source: Ashton 1989 above, Carslaw & Jaeger
    1959 ch. XI below.
    """
    only_top = float(time_to_grow_s(ice_m, air_c, exchange_wm2k, k_ice_wmk, rho_ice_kgm3, latent_jkg))
    require("base_c", base_c, -80, 0, "°C")
    heat_ice = rho_ice_kgm3 * c_ice_jkgk
    heat = heat_ice if base_heat_jm3k is None else base_heat_jm3k
    k_base = k_ice_wmk if base_k_wmk is None else base_k_wmk
    limit = None
    if base_m is not None:
        limit = float(cold_limit_m(base_m, base_c, heat, rho_ice_kgm3, latent_jkg))
    beta = math.sqrt(k_ice_wmk * heat_ice / (k_base * heat))
    root = front_root(float(stefan_number(-base_c, c_ice_jkgk, latent_jkg)), beta)
    speed = 2 * root * math.sqrt(k_ice_wmk / heat_ice)

    def below(root_s: float) -> float:
        return speed * root_s if limit is None else min(speed * root_s, limit)

    def short_of(root_s: float) -> float:
        grown = -2 * k_ice_wmk * air_c * root_s**2 / (rho_ice_kgm3 * latent_jkg)
        return float(_thickened_m(0.0, k_ice_wmk / exchange_wm2k, grown)) + below(root_s) - ice_m

    if air_c > 0 or (math.isinf(only_top) and (speed == 0 or (limit is not None and limit < ice_m))):
        return CoatFreeze(None, None, limit)
    high = math.sqrt(only_top) if math.isfinite(only_top) else ice_m / speed
    low = 0.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if short_of(middle) < 0 else (low, middle)
    return CoatFreeze(high**2, min(below(high), ice_m), limit)


def degree_day_m(coefficient_cm: Num, degree_days_c: Num) -> Num:
    """Ice after a sum of freezing degree-days.

    Arguments: coefficient_cm [cm per √(°C·d)], degree_days_c [°C·d]. Returns: [m]. Validity: coefficient 0-4
    (3.56 is the theoretical ceiling), sum not negative. Source: EM 1110-2-1612 after Michel 1971.
    """
    require("coefficient_cm", coefficient_cm, 0, 4, "cm per √(°C·d)")
    require("degree_days_c", degree_days_c, 0, 20_000, "°C·d")
    return cast(Num, coefficient_cm * np.sqrt(np.asarray(degree_days_c)) / 100)


def coefficient_in(coefficient_cm: Num) -> Num:
    """The same degree-day coefficient in inches per √(°F·d).

    Arguments: coefficient_cm [cm per √(°C·d)]. Returns: [in per √(°F·d)]. Validity: any. Source: 1 °C·d = 1.8
    °F·d.
    """
    return coefficient_cm / (2.54 * math.sqrt(1.8))
