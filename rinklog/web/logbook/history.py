"""The history of an entry: written, amended with what changed, set, frozen, lifted, withdrawn, undone; who and when."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.web.logbook.facts import facts
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry, EntryEvent


@dataclass(frozen=True)
class Change:
    """One fact that an amendment changed."""

    title: str
    before: str
    after: str


@dataclass(frozen=True)
class Step:
    """One line of the history."""

    recorded_at: dt.datetime
    by: Person
    title: str
    reason: str = ""
    at: dt.datetime | None = None  # when it happened, for events
    note: str = ""
    changes: list[Change] = field(default_factory=list)
    undone_at: dt.datetime | None = None
    event: EntryEvent | None = None


def history(revisions: list[Entry], events: list[EntryEvent], zone: ZoneInfo) -> list[Step]:
    """All steps of an entry, the first one first."""
    known = {entry.id: entry for entry in revisions}
    steps = [_written(entry, known, zone) for entry in revisions]
    steps += [_happened(event) for event in events]
    return sorted(steps, key=lambda step: step.recorded_at)


def changes(before: Entry, after: Entry, zone: ZoneInfo) -> list[Change]:
    """What an amendment changed, fact by fact."""
    old, new = facts(before, zone), facts(after, zone)
    titles = [*old, *(title for title in new if title not in old)]
    return [
        Change(title, old.get(title) or _("nothing"), new.get(title) or _("nothing"))
        for title in titles
        if old.get(title) != new.get(title)
    ]


def _written(entry: Entry, known: Mapping[UUID, Entry], zone: ZoneInfo) -> Step:
    before = known.get(entry.amends_id) if entry.amends_id else None
    return Step(
        recorded_at=entry.recorded_at,
        by=entry.by,
        title=_("Amended") if before else _("Written down"),
        reason=entry.reason,
        changes=changes(before, entry, zone) if before else [],
    )


def _happened(event: EntryEvent) -> Step:
    closing = KINDS[event.root.kind].closing
    result = event.details.get("result")
    return Step(
        recorded_at=event.recorded_at,
        by=event.by,
        title=str(event.get_what_display()).capitalize(),
        reason=event.reason,
        at=event.at,
        note=str(closing.choices.get(result, result)) if closing and result else "",
        undone_at=event.undone_at,
        event=event,
    )
