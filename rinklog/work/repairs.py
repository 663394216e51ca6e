"""What entries of the log say about hazards: repaired, holding, back again.

The log calls these inside the transaction that writes the entry, so that entry and hazard never disagree.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from uuid import UUID, uuid5

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.work.errors import Refused
from rinklog.work.hazard_events import append, lock_all, settle
from rinklog.work.models import Entry, Hazard, HazardEvent, Repair

State = Hazard.State


def attach_entry(
    *,
    entry: Entry,
    repaired: Iterable[UUID] = (),
    judged: Mapping[UUID, str] | None = None,
    by: Person,
    now: dt.datetime,
) -> None:
    """Say what an entry did: hazards it `repaired`, and what an inspection `judged` holding or back again.

    Replaces what earlier revisions of the same entry said. Raises Refused for a hazard that is not on the rink.
    """
    wanted = {hazard: State.UNDER_REPAIR.value for hazard in repaired} | dict(judged or {})
    if wrong := set(wanted.values()) - {State.UNDER_REPAIR, State.HOLDING, State.BACK_AGAIN}:
        raise Refused("hazards", _("“%(state)s” cannot be said of a hazard here.") % {"state": min(wrong)})
    with transaction.atomic():
        touched = _take_back(entry.root_id, except_entry=entry.id, now=now)
        hazards = lock_all(set(wanted) | touched)
        if missing := {id for id in wanted if id not in hazards or hazards[id].rink_id != entry.rink_id}:
            raise Refused(
                "hazards",
                _("%(count)d of the picked hazards are not on this rink.") % {"count": len(missing)},
            )
        for hazard_id, state in wanted.items():
            _attach_one(hazards[hazard_id], state, entry, by, now)
        _settle_repairs(entry.root_id)
        for hazard_id in hazards:
            settle(hazard_id)


def detach_entry(*, entry: Entry, now: dt.datetime) -> None:
    """Take back all that an entry and its revisions said: it was withdrawn or undone."""
    with transaction.atomic():
        touched = _take_back(entry.root_id, except_entry=None, now=now)
        lock_all(touched)
        _settle_repairs(entry.root_id)
        for hazard_id in touched:
            settle(hazard_id)


def reattach_entry(*, entry: Entry, now: dt.datetime) -> None:
    """Let what a revision said count again: the amendment after it was undone, and `entry` stands."""
    with transaction.atomic():
        touched = _take_back(entry.root_id, except_entry=entry.id, now=now)
        said = HazardEvent.objects.filter(entry=entry)
        touched |= set(said.values_list("hazard_id", flat=True))
        lock_all(touched)
        said.update(undone_at=None)
        _settle_repairs(entry.root_id)
        for hazard_id in touched:
            settle(hazard_id)


def _attach_one(hazard: Hazard, state: str, entry: Entry, by: Person, now: dt.datetime) -> None:
    id = uuid5(entry.id, str(hazard.id))
    if HazardEvent.objects.filter(id=id).update(undone_at=None):
        return
    # A hazard found in the middle of the work was found before it was repaired.
    at = max(entry.ended_at or entry.started_at, hazard.found_at)
    append(hazard, id=id, state=state, at=at, cone_out=None, by=by, now=now, note="", entry=entry)


def _take_back(root_id: UUID, *, except_entry: UUID | None, now: dt.datetime) -> set[UUID]:
    """Take back what the revisions of an entry said, except one of them; the ids of the hazards concerned."""
    said = HazardEvent.objects.filter(entry__root_id=root_id, undone_at=None)
    if except_entry is not None:
        said = said.exclude(entry_id=except_entry)
    touched = set(said.values_list("hazard_id", flat=True))
    said.update(undone_at=now)
    return touched


def _settle_repairs(root_id: UUID) -> None:
    """Make the repairs of an entry those that its standing revision names."""
    named = set(
        HazardEvent.objects.filter(
            entry__root_id=root_id, undone_at=None, state=State.UNDER_REPAIR
        ).values_list("hazard_id", flat=True)
    )
    Repair.objects.filter(root_id=root_id).exclude(hazard_id__in=named).delete()
    kept = set(Repair.objects.filter(root_id=root_id).values_list("hazard_id", flat=True))
    Repair.objects.bulk_create(Repair(root_id=root_id, hazard_id=hazard) for hazard in sorted(named - kept))
