"""Reading hazards. Nothing here writes."""

from uuid import UUID

from django.db.models import QuerySet

from rinklog.crew.models import Person
from rinklog.rink.models import Rink
from rinklog.work.models import Entry, Hazard, HazardEvent
from rinklog.work.queries import OPEN_STATES


def hazards(rink: Rink) -> QuerySet[Hazard]:
    """The hazards of a rink that were not mistakes, the latest first, with their zones."""
    return (
        Hazard.objects.filter(rink=rink)
        .exclude(state=Hazard.State.WITHDRAWN)
        .select_related("by", "grid")
        .prefetch_related("zones")
        .order_by("-found_at", "-number")
    )


def shown(rink: Rink, *, state: str = "open", kind: str = "") -> QuerySet[Hazard]:
    """Hazards by state ("open", "all" or one state) and by kind ("" is every kind)."""
    rows = hazards(rink)
    if state == "open":
        rows = rows.filter(state__in=OPEN_STATES)
    elif state != "all":
        rows = rows.filter(state=state)
    return rows.filter(kind=kind) if kind else rows


def history(hazard: Hazard) -> QuerySet[HazardEvent]:
    """All that was ever said of a hazard, in the order it happened, taken back or not."""
    return hazard.events.select_related("by", "entry")


def event(rink: Rink, id: UUID) -> HazardEvent | None:
    """One event of a rink's hazard."""
    return HazardEvent.objects.select_related("hazard", "by").filter(hazard__rink=rink, id=id).first()


def repairs(hazard: Hazard) -> QuerySet[Entry]:
    """The standing entries that repaired a hazard, the latest first."""
    return (
        Entry.objects.filter(root__repairs__hazard=hazard, state=Entry.State.STANDING)
        .select_related("by")
        .order_by("-started_at", "-id")
    )


def last_kind(rink: Rink, by: Person) -> str:
    """The kind of hazard a person put up last, for a smart default; a bump at first."""
    mine = Hazard.objects.filter(rink=rink, by=by).order_by("-recorded_at")
    return mine.values_list("kind", flat=True).first() or Hazard.Kind.BUMP
