"""Keeping surveys, layouts and materials."""

import datetime as dt
from dataclasses import asdict
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused, fingerprint_of
from rinklog.geometry.sheet import Lay
from rinklog.geometry.site import Kit
from rinklog.geometry.standing import Placed, depth_map
from rinklog.rink.models import Grid, Rink
from rinklog.rink.queries import zones
from rinklog.rink.services import survey_zones
from rinklog.site.models import Layout, Materials, Survey

MOST_LAYOUTS = 12


def keep_survey(
    *,
    id: UUID,
    rink: Rink,
    levels_m: list[list[float]],
    size_m: tuple[float, float],
    measured_on: dt.date,
    note: str,
    by: Person,
    now: dt.datetime,
) -> Survey:
    """Keep the heights of one day; the same id again is the same survey.

    Errors: Conflict for an id with other heights.
    """
    values = {
        "levels_m": levels_m,
        "length_m": size_m[0],
        "width_m": size_m[1],
        "measured_on": measured_on,
        "note": note.strip()[:400],
    }
    mark = fingerprint_of(values | {"measured_on": measured_on})
    with transaction.atomic():
        found, _made = Survey.objects.get_or_create(
            id=id, defaults={**values, "rink": rink, "by": by, "recorded_at": now, "fingerprint": mark}
        )
    if (found.rink_id, found.fingerprint) != (rink.id, mark):
        raise Conflict(found if found.rink_id == rink.id else None)
    return found


def keep_layout(*, id: UUID, rink: Rink, name: str, lay: Lay, by: Person, now: dt.datetime) -> Layout:
    """Make a layout, or change it by its id. The first of a rink is the chosen one. Errors: Refused past MOST_LAYOUTS."""
    with transaction.atomic():
        list(Rink.objects.select_for_update().filter(id=rink.id))
        there = Layout.objects.filter(rink=rink)
        if there.filter(id=id).update(name=name.strip()[:60], **asdict(lay)):
            return there.get(id=id)
        if Layout.objects.filter(id=id).exists():
            raise Conflict(None)
        if there.count() >= MOST_LAYOUTS:
            raise Refused(
                "name",
                _("There are %(most)d layouts already; remove one first.") % {"most": MOST_LAYOUTS},
            )
        return Layout.objects.create(
            id=id,
            rink=rink,
            name=name.strip()[:60],
            chosen=not there.exists(),
            by=by,
            recorded_at=now,
            **asdict(lay),
        )


def choose_layout(*, layout: Layout) -> None:
    """Build by this layout; the one chosen before no longer is."""
    with transaction.atomic():
        list(Rink.objects.select_for_update().filter(id=layout.rink_id))
        Layout.objects.filter(rink=layout.rink_id, chosen=True).exclude(id=layout.id).update(chosen=False)
        Layout.objects.filter(id=layout.id).update(chosen=True)


def remove_layout(*, layout: Layout) -> None:
    """Drop a layout."""
    Layout.objects.filter(id=layout.id).delete()


def keep_materials(*, rink: Rink, kit: Kit, gust_ms: float) -> Materials:
    """Say what the rink is built with."""
    values = asdict(kit) | {"gust_ms": gust_ms}
    values |= {name: list(values[name]) for name in ("lines_at_m", "circle_radii_m")}
    return Materials.objects.update_or_create(rink=rink, defaults=values)[0]


def give_zones_their_depths(*, grid: Grid, placed: Placed, cover_m: float) -> int:
    """Set the surveyed depth of every zone to the mean over it; returns how many. Marks and sun stay."""
    depths = depth_map(placed, cover_m, grid.rows, grid.columns)
    known = {zone.id: {"depth_m": round(depths[zone.row][zone.column], 3)} for zone in zones(grid)}
    return survey_zones(grid=grid, known=known)
