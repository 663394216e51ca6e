"""The one way an event of a hazard is written: under its lock, in its turn, with the state settled after it."""

import datetime as dt
from collections.abc import Iterable
from uuid import UUID

from django.db.models import Max

from rinklog.crew.models import Person
from rinklog.work.models import Entry, Hazard, HazardEvent

State = Hazard.State


def append(
    hazard: Hazard,
    *,
    id: UUID,
    state: str,
    at: dt.datetime,
    cone_out: bool | None,
    by: Person,
    now: dt.datetime,
    note: str,
    entry: Entry | None = None,
) -> HazardEvent:
    """Write an event; the hazard is locked by the caller."""
    written = HazardEvent.objects.filter(hazard=hazard)
    if state == State.MARKED:
        cone_out = True
    elif state in (State.CLOSED, State.WITHDRAWN):
        cone_out = False
    elif cone_out is None:
        before = written.filter(undone_at=None, at__lte=at).order_by("-at", "-turn").first()
        cone_out = before is not None and before.cone_out
    return HazardEvent.objects.create(
        id=id,
        hazard=hazard,
        state=state,
        cone_out=cone_out,
        at=at,
        by=by,
        recorded_at=now,
        note=note.strip()[:400],
        entry=entry,
        turn=(written.aggregate(last=Max("turn"))["last"] or 0) + 1,
    )


def lock(hazard_id: UUID) -> Hazard:
    """Lock one hazard until the transaction ends (SQLite locks the whole database instead)."""
    return Hazard.objects.select_for_update(no_key=True).get(id=hazard_id)


def lock_all(ids: Iterable[UUID]) -> dict[UUID, Hazard]:
    """Lock in one order, so that two entries on the same hazards never wait for each other in a ring."""
    return {
        hazard.id: hazard
        for hazard in Hazard.objects.select_for_update(no_key=True).filter(id__in=set(ids)).order_by("id")
    }


def settle(hazard_id: UUID) -> None:
    """Make the hazard's state and cone those of its latest event that was not taken back."""
    latest = HazardEvent.objects.filter(hazard_id=hazard_id, undone_at=None).order_by("-at", "-turn").first()
    if latest is not None:
        Hazard.objects.filter(id=hazard_id).update(state=latest.state, cone_out=latest.cone_out)
