"""Writing work: record, amend, withdraw and undo. What happens to an entry later is in entry_events.py.

Every call takes ids made by the caller and can be made twice: the second changes nothing. Equal content under the
same id is the same entry; other content is a Conflict that leaves the first untouched.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from rinklog.crew.closed import refuse_when_closed
from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.rink.models import Rink, Season, Zone
from rinklog.rink.queries import season_on
from rinklog.work.content import EntryContent
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry, EntryEvent, EntryPerson, EntryZone
from rinklog.work.repairs import attach_entry, detach_entry, reattach_entry

# A phone's clock may be a little fast; work from the future is a slip of the finger.
FUTURE_SLACK = dt.timedelta(hours=26)


@dataclass(frozen=True)
class Recorded:
    """What a recording service did: the row, and whether this call made it."""

    entry: Entry
    made: bool


def record_entry(
    *,
    id: UUID,
    rink: Rink,
    kind: str,
    content: EntryContent,
    by: Person,
    now: dt.datetime,
    local_day: dt.date,
    sent_at: dt.datetime | None = None,
    season: Season | None = None,
    zones: Iterable[Zone] = (),
) -> Recorded:
    """Record one piece of work. `local_day` is the rink-local date of its start: it decides the season.

    A caller that holds the season of that day, or zones of its grid, passes them and spares a question each.

    Raises Refused for content that cannot be recorded, Conflict when the id holds other content.
    """
    season = season or season_on(rink, local_day)
    if season is None:
        raise Refused("started", _("No season had begun on that date; the keeper sets seasons up."))
    draft = _Draft(id=id, rink=rink, season=season, kind=kind, by=by, now=now, sent_at=sent_at)
    return _save(draft, content, zones)


def amend_entry(
    *,
    id: UUID,
    entry: Entry,
    content: EntryContent,
    reason: str,
    by: Person,
    now: dt.datetime,
    local_day: dt.date,
    sent_at: dt.datetime | None = None,
) -> Recorded:
    """Record a correction: a new entry in the same lineage, on the grid of the old one.

    Raises Refused without a reason, Conflict when somebody amended or withdrew the entry first.
    """
    if not reason.strip():
        raise Refused("reason", _("Say in a few words why it is amended: the reason is empty."))
    season = season_on(entry.rink, local_day) or entry.season
    draft = _Draft(
        id=id,
        rink=entry.rink,
        season=season,
        kind=entry.kind,
        by=by,
        now=now,
        sent_at=sent_at,
        amends=entry,
        reason=reason.strip()[:400],
    )
    return _save(draft, content)


@dataclass(frozen=True)
class _Draft:
    id: UUID
    rink: Rink
    season: Season
    kind: str
    by: Person
    now: dt.datetime
    sent_at: dt.datetime | None
    amends: Entry | None = None
    reason: str = ""


def _save(draft: _Draft, content: EntryContent, held: Iterable[Zone] = ()) -> Recorded:
    content = replace(
        content,
        zone_ids=tuple(sorted(set(content.zone_ids))),
        hazard_ids=tuple(sorted(set(content.hazard_ids))),
    )
    refuse_when_closed(draft.season, draft.by)
    if draft.amends:
        refuse_when_closed(draft.amends.season, draft.by)
    content = replace(content, details=KINDS[draft.kind].clean(content))
    _check_times(content, draft.now)
    fingerprint = content.fingerprint(draft.kind)
    # Old entries keep the grid they were made on, even when amended after a new season began.
    grid_id = draft.amends.grid_id if draft.amends else draft.season.grid_id
    areas = _zone_areas(grid_id, content.zone_ids, held)
    try:
        with transaction.atomic():
            if draft.amends:
                _replace(draft.amends)
            entry = _create(draft, content, grid_id, sum(areas.values()), fingerprint)
            _save_parts(entry, content, areas)
            if content.hazard_ids or content.holding or draft.amends:
                attach_entry(
                    entry=entry,
                    repaired=content.hazard_ids,
                    judged=content.holding,
                    by=draft.by,
                    now=draft.now,
                )
    except (IntegrityError, Conflict):
        # The same id again, or two amendments: the first one won. The database says so; asking before would cost
        # every post a question, and two posts at the same moment would still need this answer.
        if found := _same_id(draft, fingerprint):
            return found
        raise
    return Recorded(entry, made=True)


def _create(draft: _Draft, content: EntryContent, grid_id: Any, area_m2: float, fingerprint: str) -> Entry:
    return Entry.objects.create(
        id=draft.id,
        root_id=draft.amends.root_id if draft.amends else draft.id,
        amends=draft.amends,
        reason=draft.reason,
        rink=draft.rink,
        season=draft.season,
        grid_id=grid_id,
        kind=draft.kind,
        started_at=content.started_at,
        ended_at=content.ended_at,
        by=draft.by,
        recorded_at=draft.now,
        sent_at=draft.sent_at,
        water_m3=content.water_m3,
        area_m2=area_m2,
        details=content.details,
        note=content.note,
        lesson=content.lesson,
        seen_air_c=content.seen_air_c,
        seen_wind_ms=content.seen_wind_ms,
        seen_sky=content.seen_sky,
        is_open=KINDS[draft.kind].stays_open and (draft.amends is None or draft.amends.is_open),
        fingerprint=fingerprint,
    )


def _same_id(draft: _Draft, fingerprint: str) -> Recorded | None:
    """The row that already has this id, if the content is the same; Conflict if it is not."""
    existing = Entry.objects.filter(id=draft.id).first()
    if existing is None:
        return None
    there = (existing.rink_id, existing.by_id, existing.amends_id, existing.reason, existing.fingerprint)
    amends_id = draft.amends.id if draft.amends else None
    if there != (draft.rink.id, draft.by.id, amends_id, draft.reason, fingerprint):
        raise Conflict(existing if existing.rink_id == draft.rink.id else None)
    return Recorded(existing, made=False)


def _replace(amended: Entry) -> None:
    """Let go of the revision that is amended; Conflict when it is no longer the one that stands."""
    moved = Entry.objects.filter(id=amended.id, state=Entry.State.STANDING).update(state=Entry.State.REPLACED)
    if not moved:
        current = Entry.objects.filter(root_id=amended.root_id, state=Entry.State.STANDING).first()
        raise Conflict(current or Entry.objects.get(id=amended.id))
    amended.refresh_from_db(fields=["is_open"])


def _check_times(content: EntryContent, now: dt.datetime) -> None:
    if content.started_at > now + FUTURE_SLACK:
        raise Refused("started", _("The start is in the future; allowed is up to now."))
    if content.ended_at is not None and content.ended_at < content.started_at:
        raise Refused("ended", _("The end is before the start; allowed is the start or later."))


def _zone_areas(grid_id: Any, zone_ids: tuple[int, ...], held: Iterable[Zone]) -> dict[int, float]:
    """Area of each picked zone, from those held or from the database; Refused when one is not on this grid."""
    wanted = set(zone_ids)
    areas = {zone.id: zone.area_m2 for zone in held if zone.grid_id == grid_id and zone.id in wanted}
    if wanted - set(areas):
        rows = Zone.objects.filter(grid_id=grid_id, id__in=zone_ids).order_by()
        areas = dict(rows.values_list("id", "area_m2"))
    if missing := wanted - set(areas):
        raise Refused(
            "zones",
            _("%(count)d of the picked zones are not on this season's grid; pick them again.")
            % {"count": len(missing)},
        )
    return areas


def _save_parts(entry: Entry, content: EntryContent, areas: dict[int, float]) -> None:
    EntryZone.objects.bulk_create(
        EntryZone(entry=entry, zone_id=zone, area_m2=areas[zone], condition=content.conditions.get(zone, ""))
        for zone in content.zone_ids
    )
    EntryPerson.objects.bulk_create(
        EntryPerson(entry=entry, person_id=person, minutes=minutes)
        for person, minutes in content.minutes.items()
    )


def withdraw_entry(*, id: UUID, entry: Entry, reason: str, by: Person, now: dt.datetime) -> EntryEvent:
    """Withdraw an entry for good: it leaves every total and stays in the history with the reason.

    Raises Refused without a reason, Conflict when nothing of it stands (it was undone).
    """
    if not reason.strip():
        raise Refused("reason", _("Say in a few words why it is withdrawn: the reason is empty."))
    refuse_when_closed(entry.season, by, "reason")
    with transaction.atomic():
        moved = Entry.objects.filter(root_id=entry.root_id, state=Entry.State.STANDING).update(
            state=Entry.State.WITHDRAWN
        )
        if not moved:
            existing = EntryEvent.objects.filter(
                root_id=entry.root_id, what=EntryEvent.What.WITHDRAWN, undone_at=None
            ).first()
            if existing is None:
                raise Conflict(entry)
            return existing
        detach_entry(entry=entry, now=now)
        return EntryEvent.objects.create(
            id=id,
            root_id=entry.root_id,
            what=EntryEvent.What.WITHDRAWN,
            at=now,
            by=by,
            recorded_at=now,
            reason=reason.strip()[:400],
        )


def undo_entry(*, id: UUID, entry: Entry, by: Person, now: dt.datetime, within: dt.timedelta) -> bool:
    """Take back what was just saved; the revision it amended, if any, stands again. False when nothing changed.

    `id` is the event's. Only the person who saved it may, and only for a while; Refused otherwise.
    """
    if entry.by_id != by.id:
        raise Refused(
            "entry", _("Only the person who saved an entry can undo it; withdraw it with a reason instead.")
        )
    if now - entry.recorded_at > within:
        raise Refused(
            "entry", _("It is too late to undo this with one tap; amend or withdraw it with a reason.")
        )
    refuse_when_closed(entry.season, by, "entry")
    with transaction.atomic():
        moved = Entry.objects.filter(id=entry.id, state=Entry.State.STANDING).update(state=Entry.State.UNDONE)
        if not moved:
            return False
        detach_entry(entry=entry, now=now)
        if entry.amends_id:
            _stand_again(entry.amends_id, now)
        EntryEvent.objects.create(
            id=id,
            root_id=entry.root_id,
            what=EntryEvent.What.UNDONE,
            at=now,
            by=by,
            recorded_at=now,
            details={"entry": str(entry.id)},
        )
    return True


def _stand_again(entry_id: UUID, now: dt.datetime) -> None:
    before = Entry.objects.get(id=entry_id)
    Entry.objects.filter(id=entry_id).update(state=Entry.State.STANDING)
    reattach_entry(entry=before, now=now)
