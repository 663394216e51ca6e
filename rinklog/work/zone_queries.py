"""Reading what was last done to each zone, and what is open there. Nothing here writes."""

import datetime as dt

from django.db.models import Max
from django.db.models.functions import Coalesce

from rinklog.geometry.grid import Grid as Plan
from rinklog.rink.models import Season
from rinklog.work.hazard_places import place_m
from rinklog.work.models import Entry, EntryZone, Hazard
from rinklog.work.queries import open_hazards


def last_done(season: Season, kind: str) -> dict[int, dt.datetime]:
    """When a kind of work was last finished, by zone id; zones where it never was are absent."""
    rows = (
        EntryZone.objects.filter(
            entry__season=season, entry__state=Entry.State.STANDING, entry__kind=kind, zone__grid=season.grid
        )
        .values("zone_id")
        .annotate(at=Max(Coalesce("entry__ended_at", "entry__started_at")))
    )
    return {row["zone_id"]: row["at"] for row in rows}


def open_by_zone(season: Season) -> tuple[list[Hazard], dict[int, list[Hazard]]]:
    """The open hazards of the rink, and the same by zone id of the season's grid."""
    hazards, grid = list(open_hazards(season.rink)), season.grid
    plan = Plan(grid.length_m, grid.width_m, 0.0, grid.rows, grid.columns)
    by_cell = {(zone.row, zone.column): zone.id for zone in grid.zones.all()}
    found: dict[int, list[Hazard]] = {}
    for hazard in hazards:
        if hazard.grid_id == grid.id:
            ids = [zone.id for zone in hazard.zones.all()]
        else:  # put up on an older grid: what counts is where it is
            ids = [by_cell[cell] for cell in _cell(plan, hazard)]
        for id in ids:
            found.setdefault(id, []).append(hazard)
    return hazards, found


def _cell(plan: Plan, hazard: Hazard) -> list[tuple[int, int]]:
    place = place_m(hazard)
    try:
        return [plan.cell_at(*place)] if place else []
    except IndexError:
        return []
