"""Freezing and thaw: fronts, coats, degree-days, and what floating ice carries."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rinklog.calculators.declare import (
    AIR,
    C_ICE,
    EXCHANGE,
    HOURS,
    K_ICE,
    LATENT,
    RHO_ICE,
    Calculator,
    Group,
    InputError,
    Key,
    Result,
    Results,
)
from rinklog.physics import bearing, freeze, melt, snow
from rinklog.units import gettext_noop

HOUR_S = 3600.0
ASHTON = "Ashton 1989, quasi-steady growth through an air film"
CARSLAW = "Carslaw & Jaeger 1959, ch. XI"
DRILL = gettext_noop(
    "An estimate never opens the rink: a person does, after drilling; local codes and licensed practice come first."
)
BASE = Key(
    "base",
    "",
    gettext_noop("what is under the ice"),
    default="water",
    kind="choice",
    choices=("water",),
    refused=(("frozen", f"water, because {bearing.FROZEN_REASON}"),),
)


def freeze_front(
    drop_k: float, hours: float, k_ice_wmk: float, rho_ice_kgm3: float, **heat: float
) -> Results:
    """Ice under a surface suddenly held below freezing, exact and quasi-steady."""
    latent, c_ice = heat["latent_jkg"], heat["c_ice_jkgk"]
    stefan = float(freeze.stefan_number(drop_k, c_ice, latent))
    seconds = hours * HOUR_S
    return {
        "neumann_mm": 1000 * freeze.neumann_m(drop_k, seconds, k_ice_wmk, rho_ice_kgm3, latent, c_ice),
        "stefan_mm": 1000 * freeze.stefan_m(drop_k, seconds, k_ice_wmk, rho_ice_kgm3, latent),
        "stefan_number": stefan,
        "root": freeze.front_root(stefan),
    }


def ice_growth(
    start_mm: float,
    air_c: float,
    exchange_wm2k: float,
    hours: float,
    snow_mm: float,
    k_ice_wmk: float,
    rho_ice_kgm3: float,
    latent_jkg: float,
    snow_k_wmk: float | None = None,
    snow_density_kgm3: float | None = None,
) -> Results:
    """Ice after steady cold, under an air film and snow."""
    if snow_k_wmk is not None and snow_density_kgm3 is not None:
        raise InputError("snow_density_kgm3", f"{snow_density_kgm3:g} beside snow_k_wmk", "one of the two")
    if snow_density_kgm3 is not None:
        snow_k_wmk = float(snow.conductivity_sturm_wmk(snow_density_kgm3))
    if snow_k_wmk is None:
        if snow_mm > 0:
            permitted = "0.005 to 3 W/m/K, or snow_density_kgm3 of 10 to 600 kg/m³, where there is snow"
            raise InputError("snow_k_wmk", "missing", permitted)
        snow_k_wmk = 1.0
    ice_m = freeze.growth_m(
        start_mm / 1000,
        air_c,
        exchange_wm2k,
        hours * HOUR_S,
        snow_mm / 1000,
        snow_k_wmk,
        k_ice_wmk,
        rho_ice_kgm3,
        latent_jkg,
    )
    return {"ice_mm": 1000 * ice_m, "growth_mm": 1000 * ice_m - start_mm}


def coat_freeze(
    air_c: float,
    exchange_wm2k: float,
    base_c: float,
    k_ice_wmk: float,
    rho_ice_kgm3: float,
    latent_jkg: float,
    c_ice_jkgk: float,
    water_mm: float | None = None,
    ice_mm: float | None = None,
    base_k_wmk: float | None = None,
    base_heat_jm3k: float | None = None,
    base_mm: float | None = None,
) -> Results:
    """Time for a thin flood to freeze through, from above and from a cold base."""
    depth_mm = ice_mm if ice_mm is not None else (water_mm or 0.0) * 1000 / rho_ice_kgm3
    coat = freeze.coat_freeze(
        depth_mm / 1000,
        air_c,
        exchange_wm2k,
        base_c,
        None if base_mm is None else base_mm / 1000,
        base_k_wmk,
        base_heat_jm3k,
        k_ice_wmk,
        rho_ice_kgm3,
        latent_jkg,
        c_ice_jkgk,
    )
    return {
        "hours": None if coat.seconds is None else coat.seconds / HOUR_S,
        "from_below_mm": None if coat.from_below_m is None else 1000 * coat.from_below_m,
        "cold_limit_mm": None if coat.cold_limit_m is None else 1000 * coat.cold_limit_m,
    }


def degree_days(coefficient_cm: float, degree_days_c: float) -> Results:
    """Ice after a sum of freezing degree-days."""
    return {
        "ice_mm": 1000 * freeze.degree_day_m(coefficient_cm, degree_days_c),
        "coefficient_in": freeze.coefficient_in(coefficient_cm),
    }


def thaw(degree_day_mm: float, thaw_degree_days_c: float, rho_ice_kgm3: float) -> Results:
    """Melt after a sum of thawing degree-days."""
    water_m = melt.thaw_water_m(degree_day_mm, thaw_degree_days_c)
    return {
        "melt_water_mm": 1000 * water_m,
        "melt_ice_mm": 1000 * melt.ice_from_water_m(water_m, rho_ice_kgm3),
    }


def bearing_guidance(
    base: str,
    coefficient: float,
    clear_mm: float | None = None,
    white_mm: float = 0.0,
    load_kg: float | None = None,
) -> Results:
    """What the guidance for floating ice says a thickness carries, or a load needs."""
    bearing.require_floating(base)
    if load_kg is not None:
        return {"needed_mm": 1000 * bearing.needed_m(load_kg, coefficient)}
    effective_m = bearing.effective_m((clear_mm or 0.0) / 1000, white_mm / 1000)
    return {"effective_mm": 1000 * effective_m, "load_kg": bearing.load_kg(effective_m, coefficient)}


def _never(inputs: Mapping[str, Any], results: Results) -> str | None:
    hours = results["hours"]
    never = None in hours if isinstance(hours, list) else hours is None
    return gettext_noop("This coat does not freeze through in this air.") if never else None


FREEZE_FRONT = Calculator(
    "freeze-front",
    gettext_noop("Ice under a cold surface"),
    (
        Key("drop_k", "K", gettext_noop("surface below freezing"), 0, 80),
        HOURS,
        K_ICE,
        RHO_ICE,
        LATENT,
        C_ICE,
    ),
    (
        Result("neumann_mm", "mm", gettext_noop("ice, exact")),
        Result("stefan_mm", "mm", gettext_noop("ice, quasi-steady")),
        Result("stefan_number", "", gettext_noop("sensible over latent heat")),
        Result("root", "", gettext_noop("root of Neumann's equation")),
    ),
    (CARSLAW, "Crank 1984, eq. 3.14", "Stefan 1891"),
    gettext_noop("water at freezing, surface held; a real surface is warmer than this, see ice-growth"),
    "h = 2 λ √(α t), √π λ exp(λ²) erf λ = c ΔT / L; h = √(2 k ΔT t / ρ L)",
    freeze_front,
)
ICE_GROWTH = Calculator(
    "ice-growth",
    gettext_noop("Ice grown in steady cold"),
    (
        Key("start_mm", "mm", gettext_noop("ice at the start"), 0, 5000, 0.0),
        AIR,
        EXCHANGE,
        HOURS,
        Key("snow_mm", "mm", gettext_noop("snow lying on the ice"), 0, 5000, 0.0),
        Key("snow_k_wmk", "W/m/K", gettext_noop("conductivity of the snow"), 0.005, 3, optional=True),
        Key(
            "snow_density_kgm3",
            "kg/m³",
            gettext_noop("density of the snow, for its conductivity after Sturm et al. 1997"),
            10,
            600,
            optional=True,
        ),
        K_ICE,
        RHO_ICE,
        LATENT,
    ),
    (
        Result("ice_mm", "mm", gettext_noop("ice at the end")),
        Result("growth_mm", "mm", gettext_noop("ice added")),
    ),
    (ASHTON, "Sturm et al. 1997"),
    gettext_noop("steady air and snow, water at freezing beneath; air above 0 °C neither adds nor melts"),
    "h = -k R + √((k R + h0)² + 2 k ΔT t / ρ L), R = 1/H + hs/ks",
    ice_growth,
    caution=DRILL,
)
COAT_FREEZE = Calculator(
    "coat-freeze",
    gettext_noop("Time for a coat to freeze"),
    (
        Key("water_mm", "mm", gettext_noop("depth of water poured"), 0, 1000),
        Key("ice_mm", "mm", gettext_noop("the same as ice"), 0, 1000),
        AIR,
        EXCHANGE,
        Key("base_c", "°C", gettext_noop("temperature of the base before the flood"), -60, 0, 0.0),
        Key(
            "base_k_wmk",
            "W/m/K",
            gettext_noop("conductivity of the base; ice if absent"),
            0.05,
            10,
            optional=True,
        ),
        Key(
            "base_heat_jm3k",
            "J/m³/K",
            gettext_noop("heat capacity of the base; ice if absent"),
            1e5,
            1e7,
            optional=True,
        ),
        Key("base_mm", "mm", gettext_noop("thickness of the base; thick if absent"), 0, 5000, optional=True),
        K_ICE,
        RHO_ICE,
        LATENT,
        C_ICE,
    ),
    (
        Result("hours", "h", gettext_noop("until it is frozen through")),
        Result("from_below_mm", "mm", gettext_noop("of ice frozen from below")),
        Result("cold_limit_mm", "mm", gettext_noop("most ice the base can freeze")),
    ),
    (ASHTON, CARSLAW + ", two-phase front from below"),
    gettext_noop("water at freezing when poured, steady air; a thin base slows before its cold is spent"),
    "t = (ρ L / ΔT)(d²/2k + d/H) from above; 2 λ₂ √(α t) from below, at most ρ c Tg D / ρ L",
    coat_freeze,
    caution=gettext_noop(
        "Check with a hand or a scraper before anyone skates: sun, snowfall and warm water make it later."
    ),
    warn=_never,
    ways=(("water_mm",), ("ice_mm",)),
)
DEGREE_DAYS = Calculator(
    "degree-days",
    gettext_noop("Ice by degree-days"),
    (
        Key(
            "coefficient_cm",
            "cm per √(°C·d)",
            gettext_noop("2.7 windy, no snow; 1.7-2.4 average lake with snow; 3.56 is the ceiling"),
            0,
            4,
        ),
        Key("degree_days_c", "°C·d", gettext_noop("sum of freezing degree-days"), 0, 20_000),
    ),
    (
        Result("ice_mm", "mm", gettext_noop("ice")),
        Result("coefficient_in", "in per √(°F·d)", gettext_noop("the coefficient in US units")),
    ),
    ("EM 1110-2-1612", "ERDC/CRREL TN-04-3, after Michel 1971"),
    gettext_noop("whole seasons on open water; not for a thin coat"),
    "h = a √FDD",
    degree_days,
    caution=DRILL,
)
THAW = Calculator(
    "thaw",
    gettext_noop("Melt by mild days"),
    (
        Key(
            "degree_day_mm",
            "mm per °C·d",
            gettext_noop("melt of water a degree-day: snow 2.5-5.5, ice 5.5-9; upper values in low sun"),
            0,
            25,
        ),
        Key("thaw_degree_days_c", "°C·d", gettext_noop("sum of degree-days above 0 °C"), 0, 20_000),
        RHO_ICE,
    ),
    (
        Result("melt_water_mm", "mm", gettext_noop("melt as water")),
        Result("melt_ice_mm", "mm", gettext_noop("melt as ice")),
    ),
    ("Hock 2003, table 1 (from memory)", "Braithwaite 2008"),
    gettext_noop("sums over days; compute the balance when sun and wind are known"),
    "M = f · PDD",
    thaw,
    caution=gettext_noop("Thawing ice weakens before it thins: keep off and drill before opening again."),
)
BEARING = Calculator(
    "bearing",
    gettext_noop("What floating ice carries"),
    (
        BASE,
        Key("clear_mm", "mm", gettext_noop("clear ice, measured by drilling"), 0, 3000),
        Key("white_mm", "mm", gettext_noop("white ice, counted half"), 0, 3000, 0.0, goes_with=("clear_mm",)),
        Key(
            "coefficient",
            "kg/cm²",
            gettext_noop("A of the guidance: 3.5 cautious, 4 usual, 6 risky"),
            3,
            7,
            4.0,
        ),
        Key("load_kg", "kg", gettext_noop("a moving load"), 0, 100_000),
    ),
    (
        Result("effective_mm", "mm", gettext_noop("thickness that counts")),
        Result("load_kg", "kg", gettext_noop("moving load in the guidance")),
        Result("needed_mm", "mm", gettext_noop("thickness in the guidance for that load")),
    ),
    ("Gold 1971", "Alberta-type guides (white ice counted half, from memory)", "Minnesota DNR"),
    gettext_noop("moving loads on clear, sound, floating ice; not parked loads, not in thaw"),
    "P = A h²",
    bearing_guidance,
    caution=gettext_noop(
        "No ice is safe ice. Under 10 cm stay off; guides ask double the thickness of white ice. Drill in several "
        "places; local codes and licensed practice come first."
    ),
    ways=(("clear_mm",), ("load_kg",)),
)
GROUP = Group(
    "freezing-and-thaw",
    gettext_noop("Freezing and thaw"),
    (FREEZE_FRONT, ICE_GROWTH, COAT_FREEZE, DEGREE_DAYS, THAW, BEARING),
)
