"""What happens to an entry later: set, frozen through, cover lifted. Never an edit, and one tap to take it back."""

import datetime as dt
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from rinklog.crew.closed import refuse_when_closed
from rinklog.crew.models import Person
from rinklog.work.errors import Conflict, Refused
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry, EntryEvent
from rinklog.work.repairs import reattach_entry

What = EntryEvent.What
FUTURE_SLACK = dt.timedelta(minutes=10)  # a phone's clock may be a little fast


@dataclass(frozen=True)
class Happened:
    """What adding an event did: the row, and whether this call made it."""

    event: EntryEvent
    made: bool


def possible(entry: Entry) -> tuple[str, ...]:
    """Which events can happen to an entry of this kind, in their order."""
    kind = KINDS[entry.kind]
    if kind.stays_open:
        return (What.LIFTED,)
    return (What.SET, What.FROZEN) if kind.takes_water else ()


def add_event(
    *,
    id: UUID,
    entry: Entry,
    what: str,
    by: Person,
    now: dt.datetime,
    at: dt.datetime | None = None,
    details: dict[str, Any] | None = None,
) -> Happened:
    """Say that something happened to an entry, at `at` (now when absent).

    Twice the same is once, whoever says it second. Raises Refused for what cannot happen to this kind or at that
    time, Conflict when the id holds another event or the entry no longer stands.
    """
    at = at or now
    details = _clean(entry, what, details or {})
    if at > now + FUTURE_SLACK:
        raise Refused("at", _("The time is in the future; allowed is up to now."))
    try:
        with transaction.atomic():
            if there := _already(id, entry, what):
                return there
            refuse_when_closed(entry.season, by, "at")
            standing = Entry.objects.filter(root_id=entry.root_id, state=Entry.State.STANDING).first()
            if standing is None:
                raise Conflict(entry)
            if at < standing.started_at:
                raise Refused("at", _("The time is before the work began; allowed is from then on."))
            event = EntryEvent.objects.create(
                id=id, root_id=entry.root_id, what=what, at=at, by=by, recorded_at=now, details=details
            )
            _settle_open(entry.root_id, what, is_open=False)
    except IntegrityError:
        if there := _already(id, entry, what):
            return there
        raise
    return Happened(event, made=True)


def undo_event(*, event: EntryEvent, by: Person, now: dt.datetime, within: dt.timedelta) -> bool:
    """Take back an event (a withdrawal too). False when it was already taken back.

    Only the person who said it may, and only for a while; Refused otherwise.
    """
    if event.by_id != by.id:
        raise Refused("event", _("Only the person who said it can take it back."))
    if now - event.recorded_at > within:
        raise Refused("event", _("It is too late to take this back with one tap."))
    if event.what == What.UNDONE:
        raise Refused("event", _("An undo cannot be taken back; write the work down again."))
    refuse_when_closed(event.root.season, by, "event")
    with transaction.atomic():
        moved = EntryEvent.objects.filter(id=event.id, undone_at=None).update(undone_at=now)
        if not moved:
            return False
        _settle_open(event.root_id, event.what, is_open=True)
        if event.what == What.WITHDRAWN:
            _stand_again(event.root_id, now)
    return True


def _clean(entry: Entry, what: str, details: dict[str, Any]) -> dict[str, Any]:
    if what not in possible(entry):
        raise Refused("what", _("“%(what)s” does not happen to this kind of work.") % {"what": what})
    closing = KINDS[entry.kind].closing
    if what != What.LIFTED or closing is None:
        return {}
    result = details.get("result")
    if result not in closing.choices:
        raise Refused("result", _("The result is empty; say what came of it."))
    return {"result": result}


def _already(id: UUID, entry: Entry, what: str) -> Happened | None:
    """The event there is: the one with this id, or the same said by somebody before."""
    if existing := EntryEvent.objects.filter(id=id).first():
        if (existing.root_id, existing.what) != (entry.root_id, what):
            raise Conflict(None)
        return Happened(existing, made=False)
    same = EntryEvent.objects.filter(root_id=entry.root_id, what=what, undone_at=None).first()
    return Happened(same, made=False) if same else None


def _settle_open(root_id: UUID, what: str, *, is_open: bool) -> None:
    if what == What.LIFTED:
        Entry.objects.filter(root_id=root_id).update(is_open=is_open)


def _stand_again(root_id: UUID, now: dt.datetime) -> None:
    withdrawn = Entry.objects.get(root_id=root_id, state=Entry.State.WITHDRAWN)
    Entry.objects.filter(id=withdrawn.id).update(state=Entry.State.STANDING)
    reattach_entry(entry=withdrawn, now=now)
