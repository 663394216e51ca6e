"""Handing over: written from the log, completed by a person, confirmed as read."""

import datetime as dt
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Conflict, fingerprint_of
from rinklog.plan import saying
from rinklog.plan.models import HandOver, HandOverRead, Shift
from rinklog.plan.queries.hand_over import facts_now, next_people
from rinklog.rink.models import Rink


@dataclass(frozen=True)
class Words:
    """What only a person knows: where the hose lies, what the machines do, and the rest."""

    hose: str = ""
    machines: str = ""
    note: str = ""


def hand_over(
    *, id: UUID, rink: Rink, shift: Shift | None, words: Words, by: Person, now: dt.datetime
) -> HandOver:
    """Write a hand-over with the log as it is; the next shift is told. The same id again is the same.

    Errors: Conflict.
    """
    print_ = fingerprint_of(
        {"rink": rink.id, "shift": shift.id if shift else None, "by": by.id, **vars(words)}
    )
    with transaction.atomic():
        known = HandOver.objects.filter(id=id).first()
        if known:
            if known.fingerprint != print_:
                raise Conflict(known)
            return known
        facts: dict[str, Any] = facts_now(rink, shift, now)
        made = HandOver.objects.create(
            id=id, rink=rink, shift=shift, by=by, at=now, facts=facts, fingerprint=print_,
            hose=words.hose.strip(), machines=words.machines.strip(), note=words.note.strip(),
        )  # fmt: skip
        HandOverRead.objects.create(hand_over=made, person=by, at=now)
        people = [one for one in next_people(rink, now) if one.id != by.id]
        saying.handed_over(
            hand_over=made,
            people=people,
            text=lambda: _("%(name)s hands over: read it before you start."),
            now=now,
        )
    return made


def confirm_read(*, hand_over: HandOver, by: Person, now: dt.datetime) -> None:
    """A person has read it; the first time is kept."""
    HandOverRead.objects.get_or_create(hand_over=hand_over, person=by, defaults={"at": now})
