"""Making shifts, moving them, calling them off, and answering the forecast. A person decides; the forecast only asks."""

import datetime as dt
from dataclasses import dataclass
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog import clock
from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused, fingerprint_of
from rinklog.plan import saying
from rinklog.plan.models import PermissionKind, Shift, ShiftEvent, Team
from rinklog.plan.queries.shifts import people_on
from rinklog.plan.services.places import locked
from rinklog.rink.models import Rink

Work, Roster, What = Shift.Work, Shift.Roster, ShiftEvent.What
HOUSE_WORK = frozenset({Work.HUT, Work.KEYS, Work.LIGHTS, Work.LOCK_UP})
MINUTES = (15, 720)
MOST_PEOPLE = 30
FURTHEST_DAYS = 400


@dataclass(frozen=True)
class ShiftContent:
    """What a shift is: work, from when for how long [min], how many people, who may be on it."""

    work: str
    starts_at: dt.datetime
    minutes: int
    people_needed: int = 2
    skills: tuple[str, ...] = ()
    everybody: tuple[str, ...] = ()
    note: str = ""
    window: dict[str, Any] | None = None


def roster_of(work: str) -> str:
    """Which of the two rosters a kind of work belongs to: they never mix."""
    return Roster.HOUSE if work in HOUSE_WORK else Roster.ICE


def make_shift(
    *, id: UUID, rink: Rink, content: ShiftContent, by: Person, now: dt.datetime, team: Team | None = None
) -> Shift:
    """Make a shift; the same id and content again is the same shift. Errors: Refused, Conflict."""
    print_ = fingerprint_of({"rink": rink.id, "by": by.id, **vars(content)})
    with transaction.atomic():
        known = Shift.objects.filter(id=id).first()
        if known:
            if known.fingerprint != print_:
                raise Conflict(known)
            return known
        _refuse_odd(content, now)
        shift = Shift.objects.create(
            id=id,
            rink=rink,
            roster=roster_of(content.work),
            night=clock.night_of(content.starts_at, ZoneInfo(rink.time_zone)),
            ends_at=content.starts_at + dt.timedelta(minutes=content.minutes),
            by=by,
            made_at=now,
            team=team,
            fingerprint=print_,
            **_kept(content),
        )
        ShiftEvent.objects.create(shift=shift, what=What.MADE, at=now, by=by)
    return shift


def move(*, shift: Shift, starts_at: dt.datetime, minutes: int, by: Person, now: dt.datetime) -> Shift:
    """Give a shift another time; everybody on it is told. Errors: Refused."""
    with transaction.atomic():
        held = locked(shift)
        zone = ZoneInfo(held.rink.time_zone)
        ends_at = starts_at + dt.timedelta(minutes=minutes)
        _refuse_when_off(held)
        _refuse_time(starts_at, minutes, now)
        if (held.starts_at, held.ends_at) == (starts_at, ends_at):
            return held
        was = held.starts_at
        event(shift=held, what=What.MOVED, by=by, now=now, details={"from": held.starts_at.isoformat()})
        held.starts_at, held.ends_at = starts_at, ends_at
        held.night = clock.night_of(starts_at, zone)
        held.questioned_at, held.question = None, {}
        held.changed += 1
        held.save(update_fields=["starts_at", "ends_at", "night", "questioned_at", "question", "changed"])
        saying.moved(shift=held, people=people_on(held), was=was, now=now)
    return held


def call_off(*, shift: Shift, reason: str, by: Person, now: dt.datetime) -> Shift:
    """Call a shift off; everybody on it is told. A second time changes nothing."""
    with transaction.atomic():
        held = locked(shift)
        if held.is_off:
            return held
        held.called_off_at, held.changed = now, held.changed + 1
        held.save(update_fields=["called_off_at", "changed"])
        event(shift=held, what=What.CALLED_OFF, by=by, now=now, reason=reason.strip())
        saying.called_off(shift=held, people=people_on(held), reason=reason.strip(), now=now)
    return held


def keep(*, shift: Shift, by: Person, now: dt.datetime) -> Shift:
    """Keep a questioned shift: what was found stays as the new measure; everybody on it is told.

    A second time changes nothing.
    """
    with transaction.atomic():
        held = locked(shift)
        _refuse_when_off(held)
        if held.questioned_at is None:
            return held
        if held.window is not None and "chance" in held.question:
            held.window = held.window | {"chance": held.question["chance"]}
        held.questioned_at, held.question = None, {"kept": held.question.get("key", "")}
        held.save(update_fields=["questioned_at", "question", "window"])
        made = event(shift=held, what=What.KEPT, by=by, now=now)
        others = [one for one in people_on(held) if one.id != by.id]
        saying.kept(shift=held, people=others, key=f"kept {made.id}", now=now)
    return held


def allow_alone(*, shift: Shift, by: Person, now: dt.datetime) -> Shift:
    """Answer with one's name for one person alone on the ice after dark."""
    with transaction.atomic():
        held = locked(shift)
        if held.alone_allowed_by_id is None:
            held.alone_allowed_by = by
            held.save(update_fields=["alone_allowed_by"])
            event(shift=held, what=What.ALONE_ALLOWED, by=by, now=now)
    return held


def event(
    *, shift: Shift, what: str, by: Person | None, now: dt.datetime, reason: str = "", **more: Any
) -> ShiftEvent:
    """Write down what happened to a shift."""
    return ShiftEvent.objects.create(shift=shift, what=what, at=now, by=by, reason=reason[:300], **more)


def _kept(content: ShiftContent) -> dict[str, Any]:
    return {
        "work": content.work,
        "starts_at": content.starts_at,
        "people_needed": content.people_needed,
        "skills": sorted(content.skills),
        "everybody": sorted(content.everybody),
        "note": content.note.strip(),
        "window": content.window,
    }


def _refuse_odd(content: ShiftContent, now: dt.datetime) -> None:
    if content.work not in Work.values:
        raise Refused("work", _("“%(value)s” is no work for a shift.") % {"value": content.work})
    _refuse_time(content.starts_at, content.minutes, now)
    if not 1 <= content.people_needed <= MOST_PEOPLE:
        raise Refused(
            "people_needed",
            _("People needed is %(value)s; allowed is 1 to %(most)s.")
            % {"value": content.people_needed, "most": MOST_PEOPLE},
        )
    unknown = {*content.skills, *content.everybody} - set(PermissionKind.values)
    if unknown:
        raise Refused("skills", _("“%(value)s” is no permission.") % {"value": sorted(unknown)[0]})


def _refuse_time(starts_at: dt.datetime, minutes: int, now: dt.datetime) -> None:
    if not MINUTES[0] <= minutes <= MINUTES[1]:
        raise Refused(
            "minutes",
            _("Expected time is %(value)s min; allowed is %(least)s to %(most)s min.")
            % {"value": minutes, "least": MINUTES[0], "most": MINUTES[1]},
        )
    if starts_at + dt.timedelta(minutes=minutes) <= now:
        raise Refused("starts_at", _("The shift would be over already; allowed is a time to come."))
    if starts_at > now + dt.timedelta(days=FURTHEST_DAYS):
        raise Refused(
            "starts_at",
            _("The shift is more than %(days)s days ahead; allowed is up to then.") % {"days": FURTHEST_DAYS},
        )


def _refuse_when_off(shift: Shift) -> None:
    if shift.is_off:
        raise Refused("shift", _("This shift is called off; make a new one."))
