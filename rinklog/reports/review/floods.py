"""Floods: how many, how thick, how long to freeze, which were spoilt and by what.

A flood is spoilt when, within two days and before the next flood there, somebody wrote down shell ice, wet ice or slush
on one of its zones. It is good when somebody looked at one of its zones or called it frozen through, and nothing bad was
written. Otherwise nobody looked, and it counts as neither.
"""

import datetime as dt
from bisect import bisect_left
from collections import Counter, defaultdict
from dataclasses import dataclass
from statistics import fmean, median
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.reports.review.facts import Facts, WaterEntry
from rinklog.reports.review.tables import FIGURE, Column, Shape, Table
from rinklog.reports.review.weather import Winter
from rinklog.work.models import Hazard

LOOKED_WITHIN_S = 48 * 3600.0  # common practice, no source
WET_FOR_S = 12 * 3600.0  # where nobody called it frozen; common practice, no source
SNOW_MM = 0.2  # of water in an hour: a dusting is no snowfall. Common practice, no source
BAD_SEEN = {"shell-ice": "shell-ice", "wet": "wet"}
BAD_FOUND = {Hazard.Kind.SHELL_ICE.value: "shell-ice", Hazard.Kind.SLUSH.value: "wet"}
GOOD, SPOILT, NOT_SEEN = "good", "spoilt", "not-seen"
SUMMARY_SHAPE = Shape("floods", lazy("Floods"), FIGURE)
EVERY_SHAPE = Shape(
    "every-flood",
    lazy("Every flood"),
    (
        Column("at", lazy("Began")),
        Column("water_m3", lazy("Water"), "m3", 3),
        Column("coat_mm", lazy("Coat"), "mm", 2),
        Column("hours_to_freeze", lazy("To freeze"), "h", 2),
        Column("air_c", lazy("Air"), "°C", 1),
        Column("wind_ms", lazy("Wind"), "m/s", 1),
        Column("outcome", lazy("Outcome"), words="outcome"),
        Column("by", lazy("Spoilt by"), words="spoiler"),
    ),
)


@dataclass(frozen=True, slots=True)
class Judged:
    """One flood and what became of it; air and wind of its hour, or as somebody saw them."""

    entry: WaterEntry
    hours_to_freeze: float | None
    air_c: float | None
    wind_ms: float | None
    outcome: str
    spoilt_by: str

    @property
    def coat_mm(self) -> float | None:
        """Water over area [mm]."""
        return None if self.entry.coat_m is None else self.entry.coat_m * 1000


Found = list[tuple[int, float, str]]  # (zone, when [s], kind of hazard)


def judge(facts: Facts, found: Found, winter: Winter) -> list[Judged]:
    """Every flood with its outcome."""
    findings = _findings(facts, found)
    told = _last_flood_before(facts, findings) if findings else {}
    return [_judged(flood, facts.frozen_s, told.get(flood.root, []), winter) for flood in facts.floods]


def _findings(facts: Facts, found: Found) -> Found:
    """What was seen of zones: (zone, when, bad word or "")."""
    seen = [(zone, at, BAD_SEEN.get(condition, "")) for zone, at, condition in facts.seen]
    put_up = [(zone, at, BAD_FOUND[kind]) for zone, at, kind in found if kind in BAD_FOUND]
    return seen + put_up


def _last_flood_before(facts: Facts, findings: Found) -> dict[str, list[str]]:
    """The words about each flood: a finding speaks of the last flood on its zone, if that is not long ago."""
    done = {flood.root: flood.done_s for flood in facts.floods}
    by_zone: dict[int, list[tuple[float, str]]] = {zone: [] for zone, _at, _bad in findings}
    for root, zone in facts.flooded:
        if zone in by_zone:
            by_zone[zone].append((done[root], root))
    for floods in by_zone.values():
        floods.sort()
    told: dict[str, list[str]] = defaultdict(list)
    for zone, at, bad in findings:
        floods = by_zone[zone]
        place = bisect_left(floods, (at,)) - 1
        if place >= 0 and at - floods[place][0] <= LOOKED_WITHIN_S:
            told[floods[place][1]].append(bad)
    return told


def _judged(flood: WaterEntry, frozen: dict[str, float], words: list[str], winter: Winter) -> Judged:
    frozen_s = frozen.get(flood.root)
    hour = winter.at(flood.started_s)
    bad = [word for word in words if word]
    outcome = SPOILT if bad else GOOD if words or frozen_s else NOT_SEEN
    took = None if frozen_s is None else max(0.0, (frozen_s - flood.done_s) / 3600)
    return Judged(
        entry=flood,
        hours_to_freeze=took,
        air_c=hour.air_c if hour and hour.air_c is not None else flood.seen_air_c,
        wind_ms=hour.wind_ms if hour and hour.wind_ms is not None else flood.seen_wind_ms,
        outcome=outcome,
        spoilt_by=_spoiler(flood, bad, frozen_s, winter) if bad else "",
    )


def _spoiler(flood: WaterEntry, bad: list[str], frozen_s: float | None, winter: Winter) -> str:
    """By what: the weather while it was wet if that is known, else what it turned out to be."""
    hours = winter.between(flood.started_s, frozen_s or flood.done_s + WET_FOR_S)
    wet = [hour for hour in hours if (hour.precip_mm or 0.0) >= SNOW_MM]
    if any((hour.air_c or 0.0) < 0 for hour in wet) or flood.seen_sky == "snowing":
        return "snow"
    if wet or flood.seen_sky == "raining":
        return "rain"
    if any((hour.air_c or 0.0) > 0 for hour in hours):
        return "thaw"
    return Counter(bad).most_common(1)[0][0]


def summary(judged: list[Judged]) -> Table:
    """The figures of all floods together."""
    coats = [one.coat_mm for one in judged if one.coat_mm is not None]
    took = [one.hours_to_freeze for one in judged if one.hours_to_freeze is not None]
    outcomes = Counter(one.outcome for one in judged)
    rows: list[tuple[Any, float | None, str, int]] = [
        (_("Floods"), len(judged), "", 0),
        (_("Mean coat of those with an amount"), fmean(coats) if coats else None, "mm", 2),
        (_("Thickest coat"), max(coats, default=None), "mm", 2),
        (_("Called frozen through"), len(took), "", 0),
        (_("Time to freeze, middle one of them"), median(took) if took else None, "h", 2),
        (_("Time to freeze, longest"), max(took, default=None), "h", 2),
        (_("Good"), outcomes[GOOD], "", 0),
        (_("Spoilt"), outcomes[SPOILT], "", 0),
        (_("Nobody looked"), outcomes[NOT_SEEN], "", 0),
    ]
    return Table.of_figures(SUMMARY_SHAPE, rows, [RULE] if judged else [])


RULE = lazy(
    "Spoilt: within 48 hours and before the next flood there, shell ice, wet ice or slush was written down on one of "
    "its zones. Good: somebody looked or called it frozen through, and wrote nothing of the kind. Common practice, "
    "no source."
)


def spoilers(judged: list[Judged]) -> Table:
    """How many were spoilt by what."""
    counts = Counter(one.spoilt_by for one in judged if one.outcome == SPOILT)
    return Table.of(SPOILERS_SHAPE, counts.most_common())


SPOILERS_SHAPE = Shape(
    "spoilt-by",
    lazy("Spoilt floods by cause"),
    (Column("by", lazy("Spoilt by"), words="spoiler"), Column("floods", lazy("Floods"), digits=0)),
)


def every(judged: list[Judged], zone: dt.tzinfo) -> Table:
    """One row a flood."""
    rows = [
        (
            dt.datetime.fromtimestamp(one.entry.started_s, zone).isoformat(timespec="minutes"),
            one.entry.water_m3,
            one.coat_mm,
            one.hours_to_freeze,
            one.air_c,
            one.wind_ms,
            one.outcome,
            one.spoilt_by,
        )
        for one in judged
    ]
    return Table.of(EVERY_SHAPE, rows)
