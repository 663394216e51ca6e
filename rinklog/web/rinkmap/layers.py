"""The layers of the rink map: one number a zone, a step that only supports it, and the words of the legend."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.rink.models import Season, Zone
from rinklog.web.rinkmap.drawing import Drawing
from rinklog.work.models import Hazard, Kind
from rinklog.work.zone_queries import last_done, open_by_zone

TITLES: dict[str, str | Promise] = {
    "flood": lazy("Last flood"),
    "hazards": lazy("Open hazards"),
    "snow": lazy("Snow removal"),
}
LEGENDS: dict[str, list[str | Promise]] = {
    "flood": [
        lazy("flooded within a day"),
        lazy("within three days"),
        lazy("longer ago"),
        lazy("–: not this season"),
    ],
    "hazards": [lazy("0: none written down"), lazy("1 open"), lazy("2 or more open")],
    "snow": [
        lazy("cleared within a day"),
        lazy("within three days"),
        lazy("longer ago"),
        lazy("–: not this season"),
    ],
}
DAY = dt.timedelta(days=1)


@dataclass(frozen=True)
class Row:
    """One zone in every layer, for the table beside the map."""

    zone: Zone
    flood: str
    snow: str
    hazards: list[Hazard]
    step: int
    text: str


class Numbered(Protocol):
    """A zone as the map draws it, whatever the layer: a number, and a step that supports it."""

    @property
    def step(self) -> int:
        """0 to 3."""

    @property
    def text(self) -> str:
        """What stands in the zone."""


@dataclass(frozen=True)
class Cell:
    """One zone on the map, in the layer shown."""

    row: Numbered
    points: str
    x: float
    y: float


def cells(drawing: Drawing, found: Sequence[Numbered], layer: str) -> list[Cell]:
    """Each zone with its number: in its middle, or beside it where hazard markers want the middle."""
    aside = layer == "hazards"
    left = drawing.width / drawing.columns * 0.15 if aside else 0.0
    up = drawing.height / drawing.rows * 0.27 if aside else 0.0
    return [
        Cell(row, drawn.points, drawn.x - left, drawn.y - up)
        for drawn, row in zip(drawing.zones, found, strict=True)
    ]


def rows(season: Season, zones: list[Zone], layer: str, now: dt.datetime) -> tuple[list[Hazard], list[Row]]:
    """The open hazards, and every zone with its number in the layer shown and in the others."""
    floods = last_done(season, Kind.FLOOD)
    cleared = last_done(season, Kind.SNOW_REMOVAL)
    hazards, by_zone = open_by_zone(season)
    found = []
    for zone in zones:
        flood, snow = floods.get(zone.id), cleared.get(zone.id)
        here = by_zone.get(zone.id, [])
        step, text = {
            "flood": (age_step(flood, now), age(flood, now)),
            "snow": (age_step(snow, now), age(snow, now)),
            "hazards": (min(len(here), 2), str(len(here))),
        }[layer]
        found.append(Row(zone, age(flood, now), age(snow, now), here, step, text))
    return hazards, found


def age(at: dt.datetime | None, now: dt.datetime) -> str:
    """How long ago, short: hours up to two days, then days; a dash for never."""
    if at is None:
        return "–"
    passed = max(now - at, dt.timedelta(0))
    if passed < 2 * DAY:
        return _("%(n)d h") % {"n": passed.total_seconds() // 3600}
    return _("%(n)d d") % {"n": passed.days}


def age_step(at: dt.datetime | None, now: dt.datetime) -> int:
    """0 within a day, 1 within three, 2 longer ago, 3 never."""
    if at is None:
        return 3
    return 0 if now - at <= DAY else 1 if now - at <= 3 * DAY else 2
