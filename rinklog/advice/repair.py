"""How to repair each open hazard: the ways that suit the defect, ranked by what can freeze or melt in the coming weather
and, where there is enough history, by what held on this rink. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Any

from rinklog.advice.said import Said, chance, coat, count, depth, hours, moment, say
from rinklog.advice.situation import HazardNow, TarpDay
from rinklog.physics.melt import poured_kg, torch_s
from rinklog.survival.kaplan_meier import Spell as Held
from rinklog.survival.kaplan_meier import kaplan_meier

# Hobby reprints of rink charts, Montreal guide, Norwegian Skating Assoc., Saskatoon (see the fields' sources); the order
# is that of the charts and decides only where physics and history do not.
WAYS: dict[str, tuple[str, ...]] = {
    "bump": ("scrape", "tarp-melt", "torch-repair"),
    "ridge": ("scrape", "tarp-melt", "torch-repair"),
    "crack": ("slush-pack", "bucket-pour", "hot-water-pour"),
    "rut": ("slush-pack", "bucket-pour"),
    "shell-ice": ("hot-water-pour", "slush-pack"),
    "slush": ("slush-pack", "scrape"),
    "thin-spot": ("bucket-pour", "slush-pack"),
    "soft-spot": ("slush-pack", "bucket-pour"),
    "debris": ("scrape", "slush-pack"),
    "drift": ("snow-removal",),
}
POURED_MM = {"slush-pack": 10.0, "bucket-pour": 4.0, "hot-water-pour": 10.0}
"""Water that has to freeze: a packed slush of 2 cm is half water; common practice, no source."""
HOT_C = 60.0
# Water [m³] and labour [min] where this rink has no history; common practice, no source.
USUAL = {
    "slush-pack": (0.010, 20.0),
    "bucket-pour": (0.020, 15.0),
    "hot-water-pour": (0.015, 20.0),
    "scrape": (0.0, 15.0),
    "torch-repair": (0.0, 20.0),
    "tarp-melt": (0.0, 20.0),
    "snow-removal": (0.0, 30.0),
}
KIND_OF = {"torch-repair": "torch-repair", "tarp-melt": "tarp-melt", "snow-removal": "snow-removal"}
PLATE_M2, PLATE_M, TORCH_W = 0.09, 0.010, 30_000.0
"""30 by 30 cm, 1 cm high, a roofing torch of 30 kW: from memory."""
IN_TIME_H = 12.0
LEAST_MELT_M = 0.002
ENOUGH = 5
"""Repairs of one kind of defect in one way before their history counts; about five, as for the log-rank test."""
HELD_DAYS = 3.0


@dataclass(frozen=True)
class Sunlit:
    """What freezes and what melts in the coming weather: hours to freeze by way, and tomorrow's cover."""

    freeze_h: dict[str, float]  # infinite: not as far as the forecast goes; empty: no forecast
    starts_at: Any = None
    tarp: TarpDay | None = None
    weather_known: bool = True


@dataclass(frozen=True)
class Past:
    """One repair that was made before: of what, how, how long it held [days], what it took."""

    defect: str
    method: str
    held: Held
    water_m3: float
    minutes: float


@dataclass(frozen=True)
class Way:
    """One way to repair: whether the weather lets it (None: not known), why, and what it takes."""

    method: str
    kind: str
    feasible: bool | None
    why: tuple[Said, ...]
    water_m3: float
    minutes: float
    rank: float

    def to_json(self) -> dict[str, Any]:
        """Plain values for a JSON column."""
        return {**vars(self), "why": [one.to_json() for one in self.why]}

    @classmethod
    def from_json(cls, kept: dict[str, Any]) -> Way:
        """What to_json wrote."""
        return cls(**{**kept, "why": tuple(Said.from_json(one) for one in kept["why"])})


def ways(hazard: HazardNow, weather: Sunlit, past: Sequence[Past]) -> list[Way]:
    """The ways for one hazard, the best first: what the weather lets, then by what held, then as charted."""
    found = [_way(method, hazard, weather, past) for method in WAYS.get(hazard.kind, ())]
    return sorted(found, key=lambda way: ({True: 0, None: 1, False: 2}[way.feasible], -way.rank))


def hot_mm(ice_c: float = 0.0) -> float:
    """Water that a hot pour leaves to freeze [mm]: itself and what it melts."""
    poured = POURED_MM["hot-water-pour"]
    return poured + float(poured_kg(HOT_C, min(ice_c, 0.0), poured))


def _way(method: str, hazard: HazardNow, weather: Sunlit, past: Sequence[Past]) -> Way:
    feasible, why = _physics(method, weather)
    alike = [one for one in past if (one.defect, one.method) == (hazard.kind, method)]
    rank, held = _history(alike)
    water_m3, minutes = USUAL[method]
    if alike:
        water_m3 = median(one.water_m3 for one in alike)
        minutes = median(one.minutes for one in alike)
    return Way(method, KIND_OF.get(method, "patch"), feasible, (*why, held), water_m3, minutes, rank)


def _physics(method: str, weather: Sunlit) -> tuple[bool | None, list[Said]]:
    if method in POURED_MM:
        return _freezes(method, weather)
    if method == "tarp-melt":
        return _melts(weather)
    if method == "torch-repair":
        minutes = max(1.0, float(torch_s(TORCH_W, PLATE_M2, PLATE_M)) / 60)
        return True, [say("repair.flame", minutes=count(round(minutes)), melt=depth(PLATE_M))]
    return True, [say("repair.by-hand")]


def _freezes(method: str, weather: Sunlit) -> tuple[bool | None, list[Said]]:
    water = coat(POURED_MM[method])
    first = []
    if method == "hot-water-pour":
        melted_m = (hot_mm() - POURED_MM[method]) / 917
        first.append(say("repair.hot", melt=depth(melted_m)))
    if not weather.weather_known or method not in weather.freeze_h:
        return None, [*first, say("repair.no-weather")]
    need_h = weather.freeze_h[method]
    if need_h == float("inf"):
        return False, [*first, say("repair.too-mild", coat=water)]
    said = say("repair.tonight", coat=water, hours=hours(need_h), starts=moment(weather.starts_at))
    return need_h <= IN_TIME_H, [*first, said]


def _melts(weather: Sunlit) -> tuple[bool | None, list[Said]]:
    day = weather.tarp
    if not weather.weather_known:
        return None, [say("repair.no-weather")]
    if day is None or day.melt_m < LEAST_MELT_M:
        return False, [say("repair.no-sun", least=depth(LEAST_MELT_M))]
    return True, [say("repair.sun", melt=depth(day.melt_m), lay=moment(day.lay_at), lift=moment(day.lift_at))]


def _history(alike: Sequence[Past]) -> tuple[float, Said]:
    """How well such repairs held here, drawn halfway to even odds by two, and how to say it."""
    if len(alike) < ENOUGH:
        return 0.5, say("repair.little-history")
    steps = [step for step in kaplan_meier(one.held for one in alike) if step.time <= HELD_DAYS]
    share = steps[-1].survival if steps else 1.0
    told = say("repair.held", held=chance(share), tried=count(len(alike)), days=count(HELD_DAYS))
    return (share * len(alike) + 1) / (len(alike) + 2), told
