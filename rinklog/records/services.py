"""Writing records: the same post twice is one record, a correction is a new record that replaces the old one."""

import datetime as dt
from dataclasses import dataclass
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from rinklog.clock import local_day
from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused, fingerprint_of
from rinklog.records.models import Opening, Record
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


@dataclass(frozen=True)
class Saved:
    """What a recording service did: the record, and whether this call made it."""

    record: Any
    made: bool


def set_opening(
    *,
    writing: Writing,
    state: str,
    reason: str = "",
    until: dt.datetime | None = None,
    grade: str = "",
) -> Saved:
    """Record that a person set the rink open, partly open or closed. Errors: Refused, Conflict."""
    reason = reason.strip()
    if state not in Opening.State.values:
        allowed = ", ".join(Opening.State.values)
        raise Refused(
            "state",
            _("State is “%(value)s”; allowed are %(allowed)s.") % {"value": state, "allowed": allowed},
        )
    if state != Opening.State.OPEN and not reason:
        raise Refused("reason", _("Reason is empty; say in a few words why it is not open."))
    if until is not None and until <= writing.at:
        raise Refused(
            "until", _("Until is not after the change itself; allowed is a later time, or nothing.")
        )
    return save_record(Opening, writing, {"state": state, "reason": reason, "until": until, "grade": grade})


def save_record(
    model: type[Record], writing: Writing, content: dict[str, Any], lines: tuple[Any, ...] = ()
) -> Saved:
    """Write one record of any kind with its `lines`, once. Errors: Refused, Conflict."""
    fingerprint = _fingerprint(model, writing, content, lines)
    if found := _same_id(model, writing, fingerprint):
        return found
    if writing.at > writing.now + FUTURE_SLACK:
        raise Refused("when", _("The time is in the future; allowed is up to now."))
    season = season_on(writing.rink, local_day(writing.at, ZoneInfo(writing.rink.time_zone)))
    if season is None:
        raise Refused("when", _("No season had begun on that date; the keeper sets seasons up."))
    try:
        with transaction.atomic():
            record = model._default_manager.create(
                id=writing.id,
                rink=writing.rink,
                season=season,
                at=writing.at,
                by=writing.by,
                recorded_at=writing.now,
                note=writing.note.strip(),
                fingerprint=fingerprint,
                replaces=writing.replaces,
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
