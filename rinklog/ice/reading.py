"""Rows into inputs: the season, its zones, its work and its weather, in a fixed number of questions."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from rinklog.clock import from_local, local_day
from rinklog.ice.deeds import Told, deeds, holes, looks, second
from rinklog.ice.filling import FILL_M
from rinklog.ice.forcing import Place, prepare
from rinklog.ice.inputs import SHADE_FRAC, Ground, Inputs
from rinklog.ice.models import HoleQuestion, Outlook
from rinklog.ice.spread import Spread, seed_of
from rinklog.rink.models import PhaseChange, Rink, Season, Zone
from rinklog.rink.queries import phases, season_on, zones
from rinklog.weather.known import KnownHour, floor
from rinklog.weather.queries import known_hours
from rinklog.work.models import Entry, EntryEvent, EntryZone

AHEAD = dt.timedelta(days=10)
LATE = dt.timedelta(hours=24)
"""Weather that begins later than this after the water did leaves unknown how much had frozen by then."""
KINDS = ("flood", "patch", "snow-removal", "tarp-melt", "torch-repair", "drill-hole", "inspection")
Missing = Outlook.Missing


@dataclass(frozen=True)
class Nothing:
    """There can be no estimate, and why."""

    season: Season | None
    missing: str


@dataclass(frozen=True)
class Read:
    """What there is to march: the inputs, of which season, and how far weather is known at all."""

    season: Season
    inputs: Inputs
    now: dt.datetime


def read(
    rink: Rink, now: dt.datetime, known_at: dt.datetime | None = None, spread: Spread | None = None
) -> Read | Nothing:
    """All inputs of the season that `now` lies in.

    Arguments: rink, now, known_at (weather and work known then), spread. Returns: Read, or Nothing with the reason.
    """
    zone = ZoneInfo(rink.time_zone)
    season = season_on(rink, local_day(now, zone))
    if season is None:
        return Nothing(None, Missing.WATER)
    changes = [one for one in phases(season) if one.on <= local_day(now, zone)]
    ended = season.ends_on is not None and season.ends_on < local_day(now, zone)
    if ended or (changes and changes[-1].phase == PhaseChange.Phase.TAKEN_DOWN):
        return Nothing(season, Missing.OVER)
    if rink.latitude is None or rink.longitude is None:
        return Nothing(season, Missing.POSITION)
    sheet = [one for one in zones(season.grid) if one.area_m2 > 0]
    grounds = tuple(Ground(z.id, z.area_m2, z.depth_m, SHADE_FRAC[z.sun]) for z in sheet)
    told = told_of(season, sheet, now)
    began, stood = beginning(changes, told, grounds, zone)
    if began is None:
        return Nothing(season, Missing.WATER)
    hours = known_hours(rink, began, now + AHEAD, known_at=known_at)
    start = _start(began, hours, now)
    if start is None:
        return Nothing(season, Missing.WEATHER)
    place = Place(rink.latitude, rink.longitude)
    inputs = Inputs(
        seed=seed_of(season.starts_on, season.grid.rows, season.grid.columns),
        grounds=grounds,
        start=start,
        stood_m=stood,
        begun=start - began < LATE,
        weather=prepare(hours, place, start),
        deeds=tuple(one for one in deeds(told, grounds, stood) if one.at >= start),
        holes=tuple(one for one in holes(told) if one.at >= start),
        looks=tuple(one for one in looks(told) if one.at >= start),
        spread=spread or Spread(),
    )
    return Read(season, inputs, now)


def beginning(
    changes: list[PhaseChange], told: list[Told], grounds: tuple[Ground, ...], zone: ZoneInfo
) -> tuple[dt.datetime | None, tuple[float, ...]]:
    """When the first water came, and what of it stands there without an entry.

    A fill that somebody wrote down (a flood of more than 40 mm) is used as written. Where none was and the zones are
    surveyed, the surveyed depth is taken to stand there from noon of the first day of building.
    """
    floods = [one for one in told if one.kind == "flood" and one.mean_m > 0]
    none = (0.0,) * len(grounds)
    building = next((one.on for one in changes if one.phase == PhaseChange.Phase.BUILDING), None)
    first = min((floor(one.started_at) for one in floods), default=None)
    filled = any(one.mean_m > FILL_M for one in floods)
    if building is None or filled or all(one.depth_m is None for one in grounds):
        return first, none
    noon = from_local(dt.datetime.combine(building, dt.time(12)), zone, "first")
    return floor(min(noon, first or noon)), tuple(one.depth_m or 0.0 for one in grounds)


def _start(began: dt.datetime, hours: list[KnownHour], now: dt.datetime) -> dt.datetime | None:
    """The hour at which the march begins: when the water came, or the first hour of which the weather is known."""
    known = [one.hour.at for one in hours if one.hour.air_c is not None and one.hour.at <= now]
    return max(began, known[0]) if known else None


def told_of(season: Season, sheet: list[Zone], now: dt.datetime) -> list[Told]:
    """The season's standing work until now, on its present grid. Four questions."""
    place = {zone.id: number for number, zone in enumerate(sheet)}
    entries = list(
        Entry.objects.filter(
            season=season, state=Entry.State.STANDING, kind__in=KINDS, started_at__lte=now
        ).values("id", "root_id", "kind", "started_at", "ended_at", "area_m2", "water_m3", "details")
    )
    rows: dict[UUID, list[tuple[int, float, str]]] = {}
    picked = EntryZone.objects.filter(entry__season=season, entry__state=Entry.State.STANDING)
    for entry, number, area_m2, condition in picked.values_list(
        "entry_id", "zone_id", "area_m2", "condition"
    ):
        if number in place:
            rows.setdefault(entry, []).append((place[number], area_m2, condition))
    happened = _happened(season, now)
    answers = dict(
        HoleQuestion.objects.filter(rink=season.rink_id).exclude(answer="").values_list("entry_id", "answer")
    )
    return [_one(row, rows.get(row["id"], []), happened, answers, now) for row in entries]


def _happened(season: Season, now: dt.datetime) -> dict[tuple[UUID, str], dt.datetime]:
    events = EntryEvent.objects.filter(
        root__season=season, undone_at=None, what__in=["frozen", "lifted"], at__lte=now
    )
    return {(root, what): at for root, what, at in events.values_list("root_id", "what", "at")}


def _one(
    row: Any,
    zones: Iterable[tuple[int, float, str]],
    happened: dict[tuple[UUID, str], dt.datetime],
    answers: dict[UUID, str],
    now: dt.datetime,
) -> Told:
    zones = sorted(zones)
    ended = row["ended_at"]
    return Told(
        id=row["id"],
        kind=row["kind"],
        started_at=second(row["started_at"]),
        ended_at=second(ended) if ended else None,
        zones={place: area_m2 for place, area_m2, _ in zones},
        area_m2=row["area_m2"],
        water_m3=row["water_m3"],
        details=row["details"],
        conditions={place: condition for place, _, condition in zones if condition},
        frozen_at=happened.get((row["root_id"], "frozen")),
        lifted_at=happened.get((row["root_id"], "lifted")),
        answer=answers.get(row["id"], ""),
    )
