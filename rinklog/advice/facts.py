"""What is on record, as the rules want it: zones, holes, hazards and rules in force, in a fixed number of questions."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from zoneinfo import ZoneInfo

from rinklog.advice.situation import HazardNow, HoleAsked, HoleNow, Range, ZoneNow
from rinklog.clock import local_day
from rinklog.ice.inputs import SHADE_FRAC
from rinklog.ice.queries import Band, Estimate, ZoneIce, open_questions
from rinklog.rink import queries as rinks
from rinklog.rink.models import Rink, Season, Zone
from rinklog.work import queries as work
from rinklog.work.models import Entry, Kind
from rinklog.work.zone_queries import last_done

WHITE_COUNTS_FRAC = 0.5  # Minnesota DNR: white ice is about half as strong
HOLES_LOOKED_AT = 40
IN_THE_ICE = (
    "bump",
    "ridge",
    "crack",
    "rut",
    "shell-ice",
    "slush",
    "thin-spot",
    "soft-spot",
    "debris",
    "drift",
)


def rules_of(rink: Rink) -> dict[str, float]:
    """The rules in force by their keys."""
    return {one.rule.key: one.value for one in rinks.rules(rink)}


def hose_m3s(rink: Rink) -> float | None:
    """The flow of the hose by the latest bucket test [m³/s], or None."""
    flow_ls = rinks.latest_flow_ls(rink)
    return flow_ls / 1000 if flow_ls else None


def phase_of(season: Season, now: dt.datetime, zone: ZoneInfo) -> str:
    """The season's phase; people skate where nobody has said otherwise."""
    change = rinks.phase_on(season, local_day(now, zone))
    return change.phase if change else "skating"


def zones_of(season: Season, estimate: Estimate | None) -> tuple[ZoneNow, ...]:
    """The zones with what is believed of them and when they last had water."""
    flooded, patched = last_done(season, Kind.FLOOD), last_done(season, Kind.PATCH)
    believed = estimate.zones if estimate else {}
    return tuple(
        _zone(zone, believed.get(zone.id), (flooded.get(zone.id), patched.get(zone.id)))
        for zone in rinks.zones(season.grid)
        if zone.area_m2 > 0
    )


def _zone(zone: Zone, ice: ZoneIce | None, poured: Iterable[dt.datetime | None]) -> ZoneNow:
    base = ZoneNow(
        id=zone.id,
        label=zone.label,
        area_m2=zone.area_m2,
        wears=zone.wears,
        low_spot=zone.low_spot,
        shade_frac=SHADE_FRAC[zone.sun],
        poured_at=max((at for at in poured if at is not None), default=None),
    )
    if ice is None:
        return base
    return ZoneNow(
        **{
            **vars(base),
            "thickness_m": _range(ice.thickness_m),
            "wet_m": _range(ice.wet_top_m),
            "snow_m": _range(ice.snow_m),
            "water_under_m": ice.water_under_m,
            "surface_c": ice.surface_c,
        }
    )


def _range(band: Band) -> Range:
    return Range(band.low, band.middle, band.high)


def holes_of(rink: Rink, season: Season, now: dt.datetime) -> tuple[HoleNow, ...]:
    """The season's last holes, the latest first; those that are asked about, or were a mistake, do not count."""
    rows = work.standing(rink).filter(season=season, kind=Kind.DRILL_HOLE, started_at__lte=now)
    rows = rows.exclude(hole_question__answer="").exclude(hole_question__answer="mistake")
    return tuple(_hole(entry) for entry in rows[:HOLES_LOOKED_AT])


def _hole(entry: Entry) -> HoleNow:
    told = entry.details
    counted = (told.get("clear_ice_m") or 0.0) + WHITE_COUNTS_FRAC * (told.get("white_ice_m") or 0.0)
    return HoleNow(entry.started_at, " ".join(row.zone.label for row in entry.zones.all()), counted)


def hazards_of(rink: Rink) -> tuple[HazardNow, ...]:
    """Open hazards in the ice; broken things around it are no work for a cone on the ice or a flood."""
    return tuple(
        HazardNow(
            id=str(hazard.id),
            number=hazard.number,
            kind=hazard.kind,
            severity=hazard.severity,
            state=hazard.state,
            cone_out=hazard.cone_out,
            found_at=hazard.found_at,
            zones=tuple(zone.label for zone in hazard.zones.all()),
            zone_ids=tuple(zone.id for zone in hazard.zones.all()),
        )
        for hazard in work.open_hazards(rink)
        if hazard.kind in IN_THE_ICE
    )


def questions_of(rink: Rink) -> tuple[HoleAsked, ...]:
    """Drill holes that wait for an answer; what was expected is the middle of what was thought possible."""
    return tuple(
        HoleAsked(
            entry_id=str(one.entry.root_id),
            zone=" ".join(row.zone.label for row in one.entry.zones.all()),
            measured_m=one.ice_m,
            expected_m=(one.low_m + one.high_m) / 2,
        )
        for one in open_questions(rink)
    )
