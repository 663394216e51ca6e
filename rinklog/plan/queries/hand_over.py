"""What the log has for the next shift. Nothing here writes."""

import datetime as dt
from typing import Any
from uuid import UUID

from django.db.models import QuerySet, Sum

from rinklog.crew.models import Person
from rinklog.plan.models import HandOver, Shift
from rinklog.plan.queries.shifts import people_on, with_people
from rinklog.rink.models import Rink
from rinklog.work.log_queries import open_now
from rinklog.work.models import Entry, EntryZone, Hazard
from rinklog.work.queries import open_hazards

NEXT_WITHIN = dt.timedelta(hours=36)
SINCE = dt.timedelta(hours=24)
"""How far back "since" goes when there was no hand-over before. Common practice, no source."""


def facts_now(rink: Rink, shift: Shift | None, now: dt.datetime) -> dict[str, Any]:
    """Wet zones, covers that lie, hazards since the last hand-over, and the water poured since; as stored values."""
    before = latest(rink)
    since = before.at if before else min(now - SINCE, shift.starts_at if shift else now)
    waiting = open_now(rink, now)
    floods = [entry for entry in waiting if entry.kind == "flood"]
    covers = [entry for entry in waiting if entry.kind == "tarp-melt"]
    zones = EntryZone.objects.filter(entry__in=waiting).select_related("zone")
    labels: dict[UUID, list[str]] = {}
    for one in zones.order_by("zone__row", "zone__column"):
        labels.setdefault(one.entry_id, []).append(one.zone.label)
    water = Entry.objects.filter(
        rink=rink, state=Entry.State.STANDING, started_at__gte=since, started_at__lte=now
    ).aggregate(sum=Sum("water_m3"))["sum"]
    return {
        "since": since.isoformat(),
        "wet": sorted({label for entry in floods for label in labels.get(entry.id, [])}),
        "covers": sorted({label for entry in covers for label in labels.get(entry.id, [])}),
        "cover_ids": [str(entry.root_id) for entry in covers],
        "hazards": [hazard_line(one) for one in open_hazards(rink) if one.found_at >= since],
        "water_m3": water or 0.0,
    }


def hazard_line(hazard: Hazard) -> dict[str, Any]:
    """One hazard as a hand-over keeps it."""
    return {
        "id": str(hazard.id),
        "number": hazard.number,
        "kind": hazard.kind,
        "severity": hazard.severity,
        "cone_out": hazard.cone_out,
    }


def hand_overs(rink: Rink) -> QuerySet[HandOver]:
    """Every hand-over of a rink, the latest first, with who read it."""
    rows = HandOver.objects.filter(rink=rink).select_related("by", "shift__rink")
    return rows.prefetch_related("read__person")


def hand_over(rink: Rink, id: UUID) -> HandOver | None:
    """One hand-over of a rink."""
    return hand_overs(rink).filter(id=id).first()


def latest(rink: Rink) -> HandOver | None:
    """The last hand-over."""
    return hand_overs(rink).first()


def next_people(rink: Rink, now: dt.datetime) -> list[Person]:
    """Who is on the next ice work that begins soon."""
    ahead = Shift.objects.filter(
        rink=rink,
        roster=Shift.Roster.ICE,
        called_off_at=None,
        starts_at__gt=now,
        starts_at__lte=now + NEXT_WITHIN,
    )
    first = with_people(ahead).order_by("starts_at").first()
    return people_on(first) if first else []
