"""From what is on record to everything the Tonight page shows. It reads and computes; services.py keeps it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field, replace
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from rinklog.advice import asks, facts
from rinklog.advice.evening import evening
from rinklog.advice.fill.reading import missing_water
from rinklog.advice.ice_now import SETTINGS, Start, flooded, slowest, start_of
from rinklog.advice.items import Item, Window
from rinklog.advice.learning import correction
from rinklog.advice.outcomes import judged
from rinklog.advice.repair import POURED_MM, Past, Sunlit, Way, hot_mm, ways
from rinklog.advice.rules import advice
from rinklog.advice.rules.flood import FLOODED_PHASES
from rinklog.advice.search import freezing
from rinklog.advice.situation import HOUR, NightFault, Situation, ZoneNow
from rinklog.advice.sky import Sky, members, sky_of
from rinklog.advice.windows import Terms, by_night, fault, permitted, starts, windows
from rinklog.clock import local_day
from rinklog.ice.future import Members, ensemble_now
from rinklog.ice.queries import latest_estimate, stored
from rinklog.ice.spread import seed_of
from rinklog.physics.column.forcing import steps_of
from rinklog.physics.windows import hours_to_freeze
from rinklog.rink.models import Rink
from rinklog.rink.queries import season_on
from rinklog.work.spell_queries import spells

WET_MEMBERS = 9


@dataclass(frozen=True)
class Content:
    """Everything of one advice, before it is a row."""

    items: list[Item] = field(default_factory=list)
    windows: tuple[Window, ...] = ()
    repairs: dict[str, list[Way]] = field(default_factory=dict)
    evening: dict[str, Any] | None = None
    told: dict[str, Any] = field(default_factory=dict)


def content(rink: Rink, now: dt.datetime, known_at: dt.datetime | None = None) -> Content:
    """Advice for a rink at `now`, from what was known at `known_at` (now)."""
    zone = ZoneInfo(rink.time_zone)
    season = season_on(rink, local_day(now, zone))
    if season is None:
        return Content(told={"missing": "season"})
    sky = sky_of(rink, now, known_at)
    estimate = latest_estimate(rink)
    factor, spoke = correction([one.outcome for one in judged(rink, known_at or now)])
    base = Situation(
        now=now,
        zone=zone,
        rules=facts.rules_of(rink),
        phase=facts.phase_of(season, now, zone),
        zones=facts.zones_of(season, estimate),
        hours=sky.hours,
        holes=facts.holes_of(rink, season, now),
        hazards=facts.hazards_of(rink),
        questions=facts.questions_of(rink),
        ice_known=estimate is not None,
        missing=missing_water(rink, now),
        hose_m3s=facts.hose_m3s(rink),
    )
    found = _Asked(rink, base, sky, ensemble_now(rink) if estimate else None, factor)
    whole, ranked = found.situation()
    past = [Past(s.defect, s.method, s.days, s.water_m3, s.minutes) for s in spells(rink, until=now)]
    sunlit = found.sunlit(whole)
    return Content(
        items=advice(whole),
        windows=ranked,
        repairs={hazard.id: ways(hazard, sunlit, past) for hazard in whole.hazards},
        evening=evening(whole),
        told=_told(rink, sky, factor, spoke, base.phase),
    )


def _told(rink: Rink, sky: Sky, factor: float, spoke: int, phase: str) -> dict[str, Any]:
    """Sources and ages, what is missing, and what was learned."""
    outlook = stored(rink)
    missing = "position" if rink.latitude is None else "" if sky.ahead is not None else "weather"
    ages = {"forecast_made_at": sky.forecast_made_at, "observed_at": sky.observed_at}
    ages["estimate_at"] = outlook.made_at if outlook and outlook.estimate else None
    return {
        **{name: at.isoformat() if at else None for name, at in ages.items()},
        **{"source": sky.source, "missing": missing, "phase": phase, "factor": factor, "spoke": spoke},
        "ice_missing": outlook.missing if outlook and (outlook.missing or outlook.estimate) else "none-yet",
    }


def pour_h_per_mm(area_m2: float, hose_m3s: float | None) -> float:
    """Hours that a hose runs for a millimetre of coat on an area [m²]; 0 where its flow [m³/s] is not known."""
    return area_m2 / 1000 / hose_m3s / 3600 if hose_m3s else 0.0


class _Asked:
    """What the engine is asked, from one situation and one sky."""

    def __init__(
        self, rink: Rink, base: Situation, sky: Sky, ensemble: Members | None, factor: float
    ) -> None:
        self.base, self.sky, self.ensemble, self.factor = base, sky, ensemble, factor
        self.seed = seed_of(rink.id, sky.first_at.isoformat())
        self.wanted = flooded(base.zones, base.phase)

    def situation(self) -> tuple[Situation, tuple[Window, ...]]:
        """The situation with windows and all answers of the engine, and every window that will do."""
        if self.sky.ahead is None:
            return self.base, ()
        ranked, why = self._windows()
        whole = replace(
            self.base,
            windows=by_night(ranked, self.base.zone),
            fault=why,
            snow_loss=self._snow_loss(),
            tarp=self._tarp(),
            wet_until=self._wet_until(),
        )
        return whole, ranked

    def sunlit(self, whole: Situation) -> Sunlit:
        """What freezes and melts for repairs: from the best start of tonight, else the next hour of the crew."""
        if self.sky.ahead is None:
            return Sunlit({}, weather_known=False)
        terms = self._terms()
        window = whole.window_tonight
        hour = (
            round((window.starts_at - self.sky.first_at) / HOUR)
            if window
            else next(iter(permitted(terms)), 0)
        )
        hour = min(hour, self.sky.count - 1)
        start = self._start(slowest(self.wanted), 1)
        column = asks.marched(start.column, steps_of(self.sky.ahead, 0, hour), SETTINGS, start.shade_frac)
        ahead = steps_of(self.sky.ahead, hour, self.sky.count)
        coats = {name: hot_mm() if name == "hot-water-pour" else mm for name, mm in POURED_MM.items()}
        need = hours_to_freeze(
            column, ahead, SETTINGS, list(coats.values()), water_c=0.0, shade_frac=start.shade_frac
        )
        freeze = {name: float(h) * self.factor for name, h in zip(coats, need, strict=True)}
        return Sunlit(freeze, terms.at(hour), whole.tarp)

    def _terms(self) -> Terms:
        ahead = tuple(h for h in self._filled() if h.at >= self.sky.first_at)
        return Terms(
            now=self.base.now,
            zone=self.base.zone,
            rules=self.base.rules,
            first_at=self.sky.first_at,
            hours=ahead,
            zone_ids=tuple(zone.id for zone in self.wanted),
            factor=self.factor,
            pour_h_per_mm=pour_h_per_mm(sum(zone.area_m2 for zone in self.wanted), self.base.hose_m3s),
        )

    def _filled(self) -> tuple[Any, ...]:
        """Hours of the rules, one for each hour of the engine's: a bridged one takes its neighbour's values."""
        by_hour = {hour.at: hour for hour in self.base.hours}
        found, last = [], None
        for n in range(self.sky.count):
            at = self.sky.first_at + n * HOUR
            last = by_hour.get(at) or (replace(last, at=at) if last else None)
            if last is not None:
                found.append(last)
        return tuple(found)

    def _start(self, zone: ZoneNow | None, count: int) -> Start:
        return start_of(self.ensemble, zone, count)

    def _windows(self) -> tuple[tuple[Window, ...], NightFault | None]:
        if self.base.phase not in FLOODED_PHASES:
            return (), None
        terms = self._terms()
        tried = starts(terms)
        start = start_of(self.ensemble, slowest(self.wanted))
        weather = members(self.sky, start.column.columns, self.seed, start.exchange, start.sunlight)
        limits = [terms.limit_h(n) for n in tried]
        found = freezing(start.column, weather, SETTINGS, tried, limits, shade_frac=start.shade_frac)
        ranked = windows(found, terms)
        tonight = self.base.tonight
        if any(tonight[0] <= one.starts_at < tonight[1] for one in ranked):
            return ranked, None
        return ranked, fault(found, terms, tonight)

    def _snow_loss(self) -> Any:
        snowed = [zone for zone in self.base.zones if zone.snow_m]
        deepest = max(snowed, key=lambda zone: zone.snow_m.middle if zone.snow_m else 0.0, default=None)
        if deepest is None or self.sky.ahead is None or not deepest.snow_m or deepest.snow_m.middle < 0.003:
            return None
        start = self._start(deepest, 1)
        hours = min(24, self.sky.count)
        return asks.snow_loss(
            start.column, self.sky.ahead, SETTINGS, self.sky.first_at, hours, start.shade_frac
        )

    def _tarp(self) -> Any:
        bumps = [hazard for hazard in self.base.hazards if hazard.kind in ("bump", "ridge")]
        if not bumps or self.sky.ahead is None:
            return None
        by_id = {zone.id: zone for zone in self.base.zones}
        where = [by_id[id] for hazard in bumps for id in hazard.zone_ids if id in by_id]
        start = self._start(where[0] if where else slowest(self.base.zones), 1)
        return asks.tarp_day(
            start.column, self.sky.ahead, SETTINGS, self.sky.first_at, self.base.zone, start.shade_frac
        )

    def _wet_until(self) -> dict[int, dt.datetime]:
        """When each wet zone is dry, in the middle of a few members."""
        found = {}
        for zone in self.base.zones:
            if zone.wet_m is None or zone.wet_m.middle < 0.0005 or self.ensemble is None:
                continue
            start = self._start(zone, WET_MEMBERS)
            weather = members(self.sky, WET_MEMBERS, self.seed, start.exchange, start.sunlight)
            hours = float(np.median(asks.dry_after_h(start.column, weather, SETTINGS, start.shade_frac)))
            if np.isfinite(hours):
                found[zone.id] = self.sky.first_at + hours * HOUR
        return found
