"""Snow and drift: what snow is like, what it does to floating ice, how it blows, and fences."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rinklog.calculators.declare import RHO_ICE, Calculator, Group, InputError, Key, Result, Results
from rinklog.calculators.freezing import BASE, DRILL
from rinklog.geometry import fence as fences
from rinklog.physics import bearing, drift, snow
from rinklog.physics.validity import OutOfRangeError
from rinklog.units import gettext_noop


def _or_none(formula: Callable[..., Any], *values: float) -> Any:
    """A formula's value, or None outside the range it was made for."""
    try:
        return formula(*values)
    except OutOfRangeError:
        return None


def snow_properties(
    density_kgm3: float | None = None, air_c: float | None = None, wind_ms: float = 0.0
) -> Results:
    """Conductivity of snow of a density, or density of snow that falls in some air."""
    if density_kgm3 is not None:
        return {
            "conductivity_sturm_wmk": _or_none(snow.conductivity_sturm_wmk, density_kgm3),
            "conductivity_calonne_wmk": snow.conductivity_calonne_wmk(density_kgm3),
            "conductivity_yen_wmk": snow.conductivity_yen_wmk(density_kgm3),
        }
    assert air_c is not None
    return {
        "new_hedstrom_pomeroy_kgm3": _or_none(snow.new_hedstrom_pomeroy_kgm3, air_c),
        "new_pahaut_kgm3": _or_none(snow.new_pahaut_kgm3, air_c, wind_ms),
        "new_jordan_kgm3": _or_none(snow.new_jordan_kgm3, air_c, wind_ms),
        "new_lachapelle_kgm3": _or_none(snow.new_lachapelle_kgm3, air_c),
    }


def snow_on_ice(
    base: str, ice_mm: float, snow_mm: float, snow_density_kgm3: float, rho_ice_kgm3: float
) -> Results:
    """Whether snow presses floating ice under water, and what flooded snow then holds."""
    bearing.require_floating(base)
    if snow_density_kgm3 > rho_ice_kgm3:
        permitted = f"at most the density of the ice, {rho_ice_kgm3:g} kg/m³"
        raise InputError("snow_density_kgm3", f"{snow_density_kgm3:g}", permitted)
    ice_m, snow_m, density = ice_mm / 1000, snow_mm / 1000, snow_density_kgm3
    return {
        "critical_snow_mm": 1000 * snow.critical_snow_m(ice_m, density, rho_ice_kgm3),
        "freeboard_mm": 1000 * snow.freeboard_m(ice_m, snow_m, density, rho_ice_kgm3),
        "slush_mm": 1000 * snow.slush_m(ice_m, snow_m, density, rho_ice_kgm3),
        "saturated_kgm3": snow.pore_water_kgm3(density, rho_ice_kgm3),
        "freeze_fraction": snow.freeze_fraction(density, rho_ice_kgm3),
    }


def drifting(
    wind_ms: float | None = None,
    hours: float = 1.0,
    fetch_m: float | None = None,
    snow_water_mm: float | None = None,
    air_c: float | None = None,
) -> Results:
    """Snow the wind carries, brings over a winter, and from what wind on."""
    results: Results = {}
    if wind_ms is not None:
        results["transport_kgms"] = drift.transport_kgms(wind_ms)
        results["transported_kgm"] = 3600 * hours * drift.transport_kgms(wind_ms)
    if fetch_m is not None and snow_water_mm is not None:
        results["relocated_kgm"] = drift.relocated_kgm(fetch_m, snow_water_mm)
    if air_c is not None:
        results["threshold_ms"] = drift.threshold_ms(air_c)
    return results


def fence(
    coefficient_tm: float,
    gap_frac: float,
    height_m: float | None = None,
    store_tm: float | None = None,
) -> Results:
    """A fence of a height, or the fence that holds an amount of snow."""
    height = height_m if height_m is not None else float(fences.height_m(store_tm or 0.0, coefficient_tm))
    length_m, depth_m = fences.drift_m(height)
    return {
        "capacity_tm": fences.capacity_tm(height, coefficient_tm),
        "setback_m": fences.setback_m(height),
        "drift_length_m": length_m,
        "drift_depth_m": depth_m,
        "height_m": height,
        "bottom_gap_m": gap_frac * height,
    }


SNOW_PROPERTIES = Calculator(
    "snow-properties",
    gettext_noop("What snow is like"),
    (
        Key("density_kgm3", "kg/m³", gettext_noop("density of lying snow"), 10, 917),
        Key("air_c", "°C", gettext_noop("air while it falls"), -60, 50),
        Key("wind_ms", "m/s", gettext_noop("wind while it falls"), 0, 60, 0.0, goes_with=("air_c",)),
    ),
    (
        Result("conductivity_sturm_wmk", "W/m/K", gettext_noop("conductivity, Sturm et al. 1997")),
        Result("conductivity_calonne_wmk", "W/m/K", gettext_noop("conductivity, Calonne et al. 2011")),
        Result("conductivity_yen_wmk", "W/m/K", gettext_noop("conductivity, Yen 1981")),
        Result("new_hedstrom_pomeroy_kgm3", "kg/m³", gettext_noop("new snow, Hedstrom & Pomeroy 1998")),
        Result("new_pahaut_kgm3", "kg/m³", gettext_noop("new snow, Pahaut 1976")),
        Result("new_jordan_kgm3", "kg/m³", gettext_noop("new snow, Jordan et al. 1999")),
        Result("new_lachapelle_kgm3", "kg/m³", gettext_noop("new snow, LaChapelle")),
    ),
    (
        "Sturm et al. 1997",
        "Calonne et al. 2011",
        "Yen 1981 (from memory)",
        "Hedstrom & Pomeroy 1998",
        "Pahaut 1976 (from memory)",
        "Jordan et al. 1999",
        "LaChapelle in Anderson 1976 (from memory)",
    ),
    gettext_noop(
        "published fits differ by up to 80 %; empty outside a fit's range (Sturm 600 kg/m³, new snow 5 °C)"
    ),
    "k = 0.138 - 1.01e-3 ρ + 3.233e-6 ρ² (Sturm)",
    snow_properties,
    ways=(("density_kgm3",), ("air_c",)),
)
SNOW_ON_ICE = Calculator(
    "snow-on-ice",
    gettext_noop("Snow on floating ice"),
    (
        BASE,
        Key("ice_mm", "mm", gettext_noop("ice"), 0, 5000),
        Key("snow_mm", "mm", gettext_noop("snow on it"), 0, 5000, 0.0),
        Key("snow_density_kgm3", "kg/m³", gettext_noop("density of the snow"), 10, 900),
        RHO_ICE,
    ),
    (
        Result("critical_snow_mm", "mm", gettext_noop("snow that presses the ice under")),
        Result("freeboard_mm", "mm", gettext_noop("ice above the water; negative when under")),
        Result("slush_mm", "mm", gettext_noop("flooded snow at equilibrium")),
        Result("saturated_kgm3", "kg/m³", gettext_noop("water that fills a cubic metre of the snow")),
        Result("freeze_fraction", "", gettext_noop("of plain water's load to freeze")),
    ),
    ("Archimedes", "Ashton (floating ice under snow)", "Röthlisberger 1983 (compaction)"),
    gettext_noop("floating ice, water 1000 kg/m³, no compaction; ice frozen to the liner cannot sink"),
    "f = h - (ρi h + ρs s)/ρw",
    snow_on_ice,
    caution=DRILL,
)
DRIFT = Calculator(
    "drift",
    gettext_noop("Drifting snow"),
    (
        Key("wind_ms", "m/s", gettext_noop("wind at 10 m"), 0, 60),
        Key("hours", "h", gettext_noop("how long it blows"), 0, 10_000, 1.0, goes_with=("wind_ms",)),
        Key("fetch_m", "m", gettext_noop("open ground upwind"), 0, 1_000_000),
        Key("snow_water_mm", "mm", gettext_noop("the winter's snow as water"), 0, 5000),
        Key("air_c", "°C", gettext_noop("air temperature"), -60, 50),
    ),
    (
        Result("transport_kgms", "kg/m/s", gettext_noop("most the wind carries")),
        Result("transported_kgm", "kg/m", gettext_noop("carried in that time")),
        Result("relocated_kgm", "kg/m", gettext_noop("brought over a winter")),
        Result("threshold_ms", "m/s", gettext_noop("wind that starts it; wet snow above 0 °C")),
    ),
    ("Tabler 1994, SHRP-H-381", "Tabler 2003, NCHRP 20-7(147)", "Li & Pomeroy 1997"),
    gettext_noop("loose snow upwind; colder than -27.3 °C counts as that"),
    "q = u^3.8 / 233847; Q = 0.5 T S (1 - 0.14^(F/T)), T = 3000 m",
    drifting,
    ways=(("wind_ms",), ("fetch_m", "snow_water_mm"), ("air_c",)),
    several=True,
)
FENCE = Calculator(
    "fence",
    gettext_noop("A snow fence"),
    (
        Key("height_m", "m", gettext_noop("height of the fence"), 0.3, 6),
        Key("store_tm", "t/m", gettext_noop("snow it has to hold"), 0.6, 430),
        Key(
            "coefficient_tm",
            "t/m",
            gettext_noop("capacity at 1 m: 8.5 half-open, 7.7 slat and wire, 2.9 solid"),
            1,
            12,
            fences.POROUS,
        ),
        Key("gap_frac", "", gettext_noop("gap beneath, of the height"), 0, 0.2, fences.GAP_FRAC),
    ),
    (
        Result("capacity_tm", "t/m", gettext_noop("snow a full fence holds")),
        Result("setback_m", "m", gettext_noop("keep it this far from the rink")),
        Result("drift_length_m", "m", gettext_noop("reach of the full drift")),
        Result("drift_depth_m", "m", gettext_noop("depth of the full drift")),
        Result("height_m", "m", gettext_noop("height of the fence")),
        Result("bottom_gap_m", "m", gettext_noop("gap beneath it")),
    ),
    ("Tabler 1994, SHRP-H-381", "Tabler 2003, NCHRP 20-7(147)", "Tabler 1980 (lee drift)"),
    gettext_noop("half-open fence across the wind on level ground; extend it about 12 heights past the ends"),
    "Qc = 8.5 H^2.2; setback 35 H; drift 30 H long, 1.2 H deep",
    fence,
    caution=gettext_noop("Call before you dig, and keep fences clear of roads and paths."),
    ways=(("height_m",), ("store_tm",)),
)
GROUP = Group("snow-and-drift", gettext_noop("Snow and drift"), (SNOW_PROPERTIES, SNOW_ON_ICE, DRIFT, FENCE))
