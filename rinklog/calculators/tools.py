"""Tools and repairs: a dark cover, hot water, the torch, and how long repairs held."""

from __future__ import annotations

from rinklog.calculators.declare import (
    AIR,
    C_ICE,
    EXCHANGE,
    LATENT,
    RHO_ICE,
    Calculator,
    Group,
    Key,
    Result,
    Results,
)
from rinklog.physics import melt
from rinklog.physics.constants import C_WATER_JKGK, EMISSIVITY_COVER
from rinklog.survival.kaplan_meier import Spell, kaplan_meier, median
from rinklog.survival.log_rank import log_rank
from rinklog.units import gettext_noop

TORCH = gettext_noop(
    "Trained adults, two present, clear of liner, boards and netting, extinguisher at hand, never indoors."
)


def cover_melt(
    sun_wm2: float,
    albedo: float,
    emissivity: float,
    longwave_down_wm2: float,
    exchange_wm2k: float,
    air_c: float,
    contact_m2kw: float,
    hours: float,
    rho_ice_kgm3: float,
    latent_jkg: float,
) -> Results:
    """Melt under a dark cover on ice at 0 °C."""
    found = melt.cover(sun_wm2, longwave_down_wm2, exchange_wm2k, air_c, albedo, emissivity, contact_m2kw)
    melted = melt.melted_m(found.into_ice_wm2, 3600 * hours, rho_ice_kgm3, latent_jkg)
    return {"cover_c": found.cover_c, "into_ice_wm2": found.into_ice_wm2, "melt_mm": 1000 * melted}


def pour(
    water_c: float,
    ice_c: float,
    litres: float,
    c_water_jkgk: float,
    c_ice_jkgk: float,
    latent_jkg: float,
    rho_ice_kgm3: float,
    area_m2: float | None = None,
) -> Results:
    """What poured water melts, and the heat it must then give up to freeze."""
    melted = melt.poured_kg(water_c, ice_c, litres, c_water_jkgk, c_ice_jkgk, latent_jkg)
    load = melt.freeze_load_jkg(water_c, c_water_jkgk, latent_jkg)
    results: Results = {
        "melted_kg": melted,
        "freeze_load_kj": load * litres / 1000,
        "ratio_to_5c": load / melt.freeze_load_jkg(5.0, c_water_jkgk, latent_jkg),
    }
    if area_m2 is not None:
        results["melt_depth_mm"] = 1000 * melted / (rho_ice_kgm3 * area_m2)
    return results


def torch(
    efficiency: float,
    latent_jkg: float,
    heat_jkg: float = melt.PROPANE_JKG,
    rho_ice_kgm3: float = 917.0,
    power_kw: float | None = None,
    area_m2: float = 0.0,
    depth_mm: float = 0.0,
    propane_kg: float | None = None,
) -> Results:
    """Minutes to melt a layer, or ice melted by an amount of propane."""
    if propane_kg is not None:
        return {"melted_kg": melt.torch_kg(propane_kg, efficiency, heat_jkg, latent_jkg)}
    power_w = 1000 * (power_kw or 0.0)
    seconds = melt.torch_s(power_w, area_m2, depth_mm / 1000, efficiency, rho_ice_kgm3, latent_jkg)
    return {"minutes": seconds / 60}


def hold(data: list[tuple[str | None, Spell]]) -> Results:
    """How long repairs held, a group at a time, and whether two groups differ."""
    spells: dict[str | None, list[Spell]] = {}
    for name, spell in data:
        spells.setdefault(name, []).append(spell)
    names = list(spells)
    groups = []
    for name in names:
        steps = kaplan_meier(spells[name])
        rows = [
            {
                "time": step.time,
                "at_risk": step.at_risk,
                "failed": step.failed,
                "survival": step.survival,
                "standard_error": step.standard_error,
            }
            for step in steps
        ]
        groups.append({"group": name, "table": rows, "median_days": median(steps)})
    results: Results = {"groups": groups}
    if len(names) == 2:
        test = log_rank(spells[names[0]], spells[names[1]])
        results["logrank_chi2"] = test.chi2 if test else None
        results["logrank_p"] = test.p if test else None
    return results


COVER_MELT = Calculator(
    "cover-melt",
    gettext_noop("Melt under a dark cover"),
    (
        Key("sun_wm2", "W/m²", gettext_noop("sun on the level"), 0, 1500),
        Key("albedo", "", gettext_noop("of the cover, 0.05-0.10"), 0, 1, 0.05),
        Key("emissivity", "", gettext_noop("of the cover"), 0, 1, EMISSIVITY_COVER),
        Key("longwave_down_wm2", "W/m²", gettext_noop("long wave from the sky"), 0, 700),
        EXCHANGE,
        AIR,
        Key(
            "contact_m2kw",
            "m²K/W",
            gettext_noop("resistance between cover and ice: 0.04 is 1 mm of still air"),
            1e-4,
            10,
            melt.CONTACT_M2KW,
        ),
        Key("hours", "h", gettext_noop("how long"), 0, 1000, 1.0),
        RHO_ICE,
        LATENT,
    ),
    (
        Result("cover_c", "°C", gettext_noop("temperature of the cover")),
        Result("into_ice_wm2", "W/m²", gettext_noop("heat into the ice; negative cools it")),
        Result("melt_mm", "mm", gettext_noop("ice melted")),
    ),
    ("energy balance of a sheet on ice at 0 °C", "contact resistance and emissivity from memory"),
    gettext_noop("steady sun and air, ice at 0 °C; below a threshold sun nothing melts"),
    "(1-a) G + ε (L - σ Tc⁴) + H (Ta - Tc) = Tc / R",
    cover_melt,
    caution=gettext_noop(
        "A cover left on too long makes a pool that freezes rough: lift it before the sun leaves."
    ),
)
POUR = Calculator(
    "pour",
    gettext_noop("Hot water on ice"),
    (
        Key("water_c", "°C", gettext_noop("water"), 0, 100),
        Key("ice_c", "°C", gettext_noop("ice"), -60, 0, 0.0),
        Key("litres", "l", gettext_noop("water poured; 1 l = 1 kg"), 0, 1_000_000, 1.0),
        Key("area_m2", "m²", gettext_noop("area it covers"), 1e-4, 100_000, optional=True),
        Key("c_water_jkgk", "J/kg/K", gettext_noop("heat capacity of water"), 4000, 4400, C_WATER_JKGK),
        C_ICE,
        LATENT,
        RHO_ICE,
    ),
    (
        Result("melted_kg", "kg", gettext_noop("ice melted when all the heat goes into it")),
        Result("freeze_load_kj", "kJ", gettext_noop("heat the water must give up to freeze")),
        Result("ratio_to_5c", "", gettext_noop("against water of 5 °C")),
        Result("melt_depth_mm", "mm", gettext_noop("melted over that area")),
    ),
    ("heat balance, 4190 J/kg/K and 333.4 kJ/kg",),
    gettext_noop("hot water needs more cold to freeze, not less; its gains are bonding and levelling"),
    "m = c T / (L + c_ice |T_ice|)",
    pour,
    caution=gettext_noop("Hot water scalds and ice under it is slippery: lids on, gloves, and nobody near."),
)
TORCH_CALCULATOR = Calculator(
    "torch",
    gettext_noop("Torch repair"),
    (
        Key("power_kw", "kW", gettext_noop("heat of the torch"), 0.1, 1000),
        Key("area_m2", "m²", gettext_noop("area to melt"), 0, 10_000),
        Key("depth_mm", "mm", gettext_noop("depth to melt"), 0, 1000),
        Key("propane_kg", "kg", gettext_noop("propane burnt"), 0, 10_000),
        Key(
            "efficiency",
            "",
            gettext_noop("share that reaches the ice, 0.2-0.4"),
            0.01,
            1,
            melt.TORCH_EFFICIENCY,
        ),
        Key(
            "heat_jkg",
            "J/kg",
            gettext_noop("heating value"),
            1e7,
            1e8,
            melt.PROPANE_JKG,
            goes_with=("propane_kg",),
        ),
        Key(
            "rho_ice_kgm3",
            "kg/m³",
            RHO_ICE.sentence,
            RHO_ICE.low,
            RHO_ICE.high,
            RHO_ICE.default,
            goes_with=("power_kw",),
        ),
        LATENT,
    ),
    (
        Result("minutes", "min", gettext_noop("to melt it")),
        Result("melted_kg", "kg", gettext_noop("ice melted")),
    ),
    ("heat balance", "propane 46.35 MJ/kg from memory; 45.99 found printed", "efficiency: an assumption"),
    gettext_noop("ice at 0 °C on a flat surface"),
    "t = ρ L A d / (η P); m = η q / L",
    torch,
    caution=TORCH,
    ways=(("power_kw", "area_m2", "depth_mm"), ("propane_kg",)),
)
HOLD = Calculator(
    "hold",
    gettext_noop("How long repairs held"),
    (Key("data", "", gettext_noop("spells: days held, failed 1 or still holding 0, group"), kind="spells"),),
    (
        Result("groups", "", gettext_noop("a table a group, one row a failure time, and the median")),
        Result("logrank_chi2", "", gettext_noop("difference of two groups")),
        Result("logrank_p", "", gettext_noop("its chance if both held alike")),
    ),
    ("Kaplan & Meier 1958", "Greenwood 1926", "Mantel 1966 (log-rank)"),
    gettext_noop("repairs still holding are censored, which must not depend on the defect"),
    "S = ∏ (1 - d/n); var = S² Σ d / (n (n - d))",
    hold,
)
GROUP = Group(
    "tools-and-repairs", gettext_noop("Tools and repairs"), (COVER_MELT, POUR, TORCH_CALCULATOR, HOLD)
)
