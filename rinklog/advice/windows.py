"""Windows to flood in, chosen from what the search found: by the crew's hours, the deadline, and what could spoil it."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog.advice.items import FrozenBy, Window
from rinklog.advice.search import COATS_MM, Choice, Freezing, best_coat, chances, hours_of, spread
from rinklog.advice.situation import HOUR, HourAhead, NightFault
from rinklog.clock import from_local, night_of

AHEAD_H = 72
LEAST_H = 2  # a flood begun later than this before the deadline is not looked at
FALL_SPOILS_MM = 0.3  # "any snowfall at all" (Quebec towns), above what forecasts give as a trace
FALL_TELLS_MM = 0.05
SUN_TELLS_WM2 = 100.0  # sun on a wet coat that is worth a word; common practice, no source
SPOILED = 0.8  # each thing that could spoil it takes this much off its rank; common practice, no source


@dataclass(frozen=True)
class Terms:
    """What the crew asks of a flood, and the hours of weather by their number from `first_at`."""

    now: dt.datetime
    zone: ZoneInfo
    rules: Mapping[str, float]
    first_at: dt.datetime
    hours: tuple[HourAhead, ...]
    zone_ids: tuple[int, ...] = ()
    factor: float = 1.0
    pour_h_per_mm: float = (
        0.0  # how long the hose runs for a millimetre of coat; 0 where its flow is not known
    )

    @property
    def thickest_mm(self) -> float:
        """The thickest coat of the rink's rule that the hose lays in its longest flood; the thinnest coat always."""
        by_rule = self.rules["coat_thickest_m"] * 1000
        if not self.pour_h_per_mm:
            return by_rule
        by_hose = self.rules["flood_longest_minutes"] / 60 / self.pour_h_per_mm
        return max(min(by_rule, by_hose), COATS_MM[0])

    def at(self, start: int) -> dt.datetime:
        """The time of an hour by its number."""
        return self.first_at + start * HOUR

    def deadline(self, start: int) -> dt.datetime:
        """The next hour of opening, at least two hours after the start."""
        earliest = (self.at(start) + LEAST_H * HOUR).astimezone(self.zone)
        wall = earliest.replace(tzinfo=None, minute=0, second=0, microsecond=0)
        opens = wall.replace(hour=int(self.rules["opens_hour"]))
        for day in (0, 1):
            found = from_local(opens + dt.timedelta(days=day), self.zone, "first")
            if found >= earliest:
                return found
        raise AssertionError("a day without its opening hour")

    def limit_h(self, start: int) -> int:
        """Whole hours from a start to its deadline, rounded up."""
        return math.ceil((self.deadline(start) - self.at(start)) / HOUR)


def starts(terms: Terms) -> tuple[int, ...]:
    """Every hour of three days at which the crew can flood, frozen air, and a deadline that the forecast reaches."""
    return tuple(
        n for n in permitted(terms) if n + terms.limit_h(n) <= len(terms.hours) and not _mild(terms, n)
    )


def _mild(terms: Terms, start: int) -> bool:
    return terms.hours[start].air_c > terms.rules["flood_never_c"]


def permitted(terms: Terms) -> list[int]:
    """Every hour of three days at which the crew can flood."""
    first, last = int(terms.rules["flood_first_hour"]), int(terms.rules["flood_last_hour"])
    found = []
    for n in range(AHEAD_H):
        hour = terms.at(n).astimezone(terms.zone).hour
        inside = first <= hour <= last if first <= last else hour >= first or hour <= last
        if inside and terms.at(n) >= terms.now - HOUR / 2:
            found.append(n)
    return found


def windows(found: Freezing, terms: Terms) -> tuple[Window, ...]:
    """Every start that will do, the best first; of equals the earlier one."""
    good = []
    for place in range(len(found.starts_h)):
        best = _choice(found, place, terms)
        if best is not None and _spoils(terms, best) is None:
            good.append(_window(found, place, best, terms))
    return tuple(sorted(good, key=lambda one: (-one.score, one.starts_at)))


def by_night(ranked: Sequence[Window], zone: ZoneInfo) -> tuple[Window, ...]:
    """The best window of each night, in the order given."""
    nights: dict[dt.date, Window] = {}
    for one in ranked:
        nights.setdefault(night_of(one.starts_at, zone), one)
    return tuple(nights.values())


def fault(found: Freezing, terms: Terms, night: tuple[dt.datetime, dt.datetime]) -> NightFault | None:
    """Why no hour of a night will do, told of its likeliest hour; None when one will."""
    tried = [n for n, start in enumerate(found.starts_h) if night[0] <= terms.at(start) < night[1]]
    if not tried:
        return _untried(terms, night)
    faults = [_fault(found, place, terms) for place in tried]
    if any(one is None for one in faults):
        return None
    return max((one for one in faults if one), key=lambda one: (one.reason != "wet", one.chance))


def _untried(terms: Terms, night: tuple[dt.datetime, dt.datetime]) -> NightFault:
    """Why no hour of a night was even marched: too mild at all of them, past, or beyond the forecast."""
    inside = [n for n in permitted(terms) if night[0] <= terms.at(n) < night[1]]
    mild = [n for n in inside if n < len(terms.hours) and _mild(terms, n)]
    if mild:
        coldest = min(mild, key=lambda n: terms.hours[n].air_c)
        return NightFault("mild", terms.at(coldest), 0, 0, terms.hours[coldest].air_c)
    return NightFault("short" if inside else "late", night[0], 0, 0, 0)


def _choice(found: Freezing, place: int, terms: Terms) -> Choice | None:
    return best_coat(
        found,
        place,
        _deadline_h(terms, found.starts_h[place]),
        terms.rules["flood_chance_frac"],
        terms.thickest_mm,
        terms.factor,
        terms.pour_h_per_mm,
    )


def _deadline_h(terms: Terms, start: int) -> float:
    return (terms.deadline(start) - terms.at(start)) / HOUR


def _wet(terms: Terms, best: Choice) -> tuple[HourAhead, ...]:
    """The hours in which the coat lies wet, at least the one of the flood."""
    end = best.high_h if math.isfinite(best.high_h) else _deadline_h(terms, best.start_h)
    return terms.hours[best.start_h : best.start_h + max(1, math.ceil(end))]


def _spoils(terms: Terms, best: Choice) -> tuple[str, float] | None:
    """What rules a window out, and how much of it: air [°C], snow or rain while wet [mm], wind [m/s]."""
    wet = _wet(terms, best)
    snow, rain = sum(hour.snow_mm for hour in wet), sum(hour.rain_mm for hour in wet)
    air = sum(hour.air_c for hour in wet) / len(wet)
    if air > terms.rules["flood_never_c"]:
        return "mild", air
    if rain >= FALL_SPOILS_MM and rain >= snow:
        return "rain", rain
    if snow >= FALL_SPOILS_MM:
        return "snow", snow
    wind = wet[0].wind_ms
    if wind is not None and wind >= terms.rules["flood_windy_ms"]:
        return "wind", wind
    return None


def spoilers(terms: Terms, best: Choice) -> tuple[str, ...]:
    """What could spoil a window that is good enough."""
    wet = _wet(terms, best)
    told = {
        "wind": any((hour.wind_ms or 0) >= terms.rules["flood_windy_ms"] for hour in wet),
        "snow": sum(hour.snow_mm for hour in wet) >= FALL_TELLS_MM,
        "rain": sum(hour.rain_mm for hour in wet) >= FALL_TELLS_MM,
        "sun": any(hour.sun_wm2 >= SUN_TELLS_WM2 for hour in wet),
        "cold": any(hour.air_c < terms.rules["flood_coldest_c"] for hour in wet),
    }
    return tuple(name for name, is_so in told.items() if is_so)


def _window(found: Freezing, place: int, best: Choice, terms: Terms) -> Window:
    start = terms.at(best.start_h)
    spoiled = spoilers(terms, best)
    return Window(
        id=f"{start:%Y%m%dT%H}",
        starts_at=start,
        coat_mm=best.coat_mm,
        frozen_by=FrozenBy(*(_after(start, h) for h in (best.low_h, best.middle_h, best.high_h))),
        chance=round(best.chance, 4),
        deadline=terms.deadline(best.start_h),
        spoilers=spoiled,
        zone_ids=terms.zone_ids,
        score=round(best.score_mm * SPOILED ** len(spoiled), 4),
        factor=terms.factor,
        pour_h_per_mm=terms.pour_h_per_mm,
        curve=_curve(found, place, terms),
    )


def _curve(
    found: Freezing, place: int, terms: Terms
) -> tuple[tuple[float, float | None, float | None, float | None, float], ...]:
    deadline_h = _deadline_h(terms, found.starts_h[place])
    share = chances(found, place, deadline_h, terms.factor, terms.pour_h_per_mm)
    hours = hours_of(found, place, terms.factor, terms.pour_h_per_mm)
    rows = []
    for coat, coat_mm in enumerate(found.coats_mm):
        low, middle, high = (_finite(h) for h in spread(hours[coat]))
        rows.append((coat_mm, low, middle, high, round(float(share[coat]), 4)))
    return tuple(rows)


def _finite(value: float) -> float | None:
    return round(value, 4) if math.isfinite(value) else None


def _after(start: dt.datetime, hours: float) -> dt.datetime | None:
    """The minute so many hours later, or None when it is not in sight."""
    if not math.isfinite(hours):
        return None
    return start + dt.timedelta(minutes=round(hours * 60))


def _fault(found: Freezing, place: int, terms: Terms) -> NightFault | None:
    start = found.starts_h[place]
    deadline_h = _deadline_h(terms, start)
    air = min(hour.air_c for hour in terms.hours[start : start + terms.limit_h(start)])
    thinnest = float(chances(found, place, deadline_h, terms.factor, terms.pour_h_per_mm)[0])
    at, coat = terms.at(start), found.coats_mm[0]
    best = _choice(found, place, terms)
    if best is None:
        reason = "warm" if thinnest < terms.rules["flood_chance_frac"] - 1e-9 else "wet"
        return NightFault(reason, at, coat, thinnest, air)
    spoiled = _spoils(terms, best)
    if spoiled is None:
        return None
    return NightFault(spoiled[0], at, best.coat_mm, best.chance, air, spoiled[1])
