"""How every record is written: the same post twice is one record, a correction replaces the old one by a new one."""

import datetime as dt
from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from rinklog.clock import local_day
from rinklog.crew.closed import refuse_when_closed
from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused, fingerprint_of
from rinklog.records.models import Record
from rinklog.rink.models import Rink
from rinklog.rink.queries import season_on

# A phone's clock may be a little fast; a record of what is still to come is a slip of the finger.
FUTURE_SLACK = dt.timedelta(minutes=15)


@dataclass(frozen=True)
class Writing:
    """Who writes which record about which moment, and when it reached us; `replaces` is the record it corrects."""

    id: UUID
    rink: Rink
    at: dt.datetime
    by: Person
    now: dt.datetime
    note: str = ""
    replaces: Record | None = None

    def moved_to(self, at: dt.datetime) -> "Writing":
        """The same, about another moment."""
        return replace(self, at=at)


@dataclass(frozen=True)
class Saved:
    """What a recording service did: the record, and whether this call made it."""

    record: Any
    made: bool


def save_record(
    model: type[Record], writing: Writing, content: dict[str, Any], lines: tuple[Any, ...] = ()
) -> Saved:
    """Write one record of any kind with its `lines`, once. Errors: Refused, Conflict."""
    fingerprint = _fingerprint(model, writing, content, lines)
    content = content | {"replaces": writing.replaces}
    if found := _same_id(model, writing, fingerprint):
        return found
    if writing.at > writing.now + FUTURE_SLACK:
        raise Refused("when", _("The time is in the future; allowed is up to now."))
    season = season_on(writing.rink, local_day(writing.at, ZoneInfo(writing.rink.time_zone)))
    if season is None:
        raise Refused("when", _("No season had begun on that date; the keeper sets seasons up."))
    refuse_when_closed(season, writing.by, "when")
    try:
        with transaction.atomic():
            record: Any = model._default_manager.create(
                id=writing.id,
                rink=writing.rink,
                season=season,
                at=writing.at,
                by=writing.by,
                recorded_at=writing.now,
                note=writing.note.strip(),
                fingerprint=fingerprint,
                **content,
            )
            for line in lines:
                record.lines.create(**line)
    except IntegrityError:
        # The same post twice at one moment, or two corrections of one record: the first one won.
        if found := _same_id(model, writing, fingerprint):
            return found
        if other := _correction_of(model, writing.replaces):
            raise Conflict(other) from None
        raise
    return Saved(record, made=True)


def _fingerprint(
    model: type[Record], writing: Writing, content: dict[str, Any], lines: tuple[Any, ...]
) -> str:
    return fingerprint_of(
        {
            "record": model._meta.model_name,
            "at": writing.at,
            "note": writing.note.strip(),
            "replaces": writing.replaces.id if writing.replaces else None,
            "lines": list(lines),
            **content,
        }
    )


def _same_id(model: type[Record], writing: Writing, fingerprint: str) -> Saved | None:
    """The record that already has this id, if it is the same; Conflict if it is not."""
    existing = model._default_manager.filter(id=writing.id).first()
    if existing is None:
        return None
    same_rink = existing.rink_id == writing.rink.id
    if existing.fingerprint != fingerprint or existing.by_id != writing.by.id or not same_rink:
        raise Conflict(existing if same_rink else None)
    return Saved(existing, made=False)


def _correction_of(model: type[Record], replaced: Record | None) -> Record | None:
    return model._default_manager.filter(replaces=replaced).first() if replaced else None
