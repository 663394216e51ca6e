"""Reading what revisions of entries said about hazards. Nothing here writes."""

from uuid import UUID

from django.db.models import QuerySet

from rinklog.work.models import Entry, Hazard, HazardEvent


def repaired_by(entry: Entry) -> list[UUID]:
    """Ids of the hazards that this revision of an entry worked on, whether or not it still counts."""
    return list(_said(entry).filter(state=Hazard.State.UNDER_REPAIR).values_list("hazard_id", flat=True))


def judged_by(entry: Entry) -> dict[UUID, str]:
    """What this revision of an inspection said of each repaired hazard: holding or back again."""
    return dict(_said(entry).exclude(state=Hazard.State.UNDER_REPAIR).values_list("hazard_id", "state"))


def said_by_lineage(root_id: UUID) -> QuerySet[HazardEvent]:
    """Everything the revisions of an entry said about hazards."""
    return (
        HazardEvent.objects.filter(entry__root_id=root_id).select_related("hazard").order_by("hazard__number")
    )


def _said(entry: Entry) -> QuerySet[HazardEvent]:
    return HazardEvent.objects.filter(entry=entry).order_by("hazard__number")
