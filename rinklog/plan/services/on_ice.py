"""On the ice, off the ice: one tap each, nobody alone after dark, and an alarm when somebody is not off in time."""

import datetime as dt
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Refused
from rinklog.plan import saying
from rinklog.plan.models import OnIce, Shift
from rinklog.plan.queries import on_ice as queries
from rinklog.plan.queries.people import coordinators
from rinklog.plan.queries.shifts import people_on
from rinklog.plan.rules.dark import is_dark
from rinklog.rink.models import Rink
from rinklog.rink.queries import rule_value

USUAL_STAY = dt.timedelta(hours=2)
LONGEST_STAY = dt.timedelta(hours=12)


def go_on(
    *,
    id: UUID,
    rink: Rink,
    person: Person,
    by: Person,
    now: dt.datetime,
    shift: Shift | None = None,
    off_by: dt.datetime | None = None,
) -> OnIce:
    """Note that somebody goes on the ice; a second tap is the same stay. Errors: Refused."""
    until = off_by or (shift.ends_at if shift else now + USUAL_STAY)
    if not now < until <= now + LONGEST_STAY:
        raise Refused("off_by", _("Off the ice by: allowed is a time within the next 12 hours."))
    try:
        with transaction.atomic():
            known = queries.stay_of(rink, person)
            if known is not None:
                return known
            _refuse_alone(rink=rink, person=person, shift=shift, now=now)
            return OnIce.objects.create(
                id=id, rink=rink, shift=shift, person=person, on_at=now, off_by=until, noted_by=by
            )
    except IntegrityError:
        again = queries.stay_of(rink, person)
        if again is None:
            raise
        return again


def come_off(*, stay: OnIce, by: Person, now: dt.datetime) -> None:
    """Note that somebody is off the ice; the first time counts."""
    OnIce.objects.filter(id=stay.id, off_at=None).update(off_at=max(now, stay.on_at))


def stay_longer(*, stay: OnIce, off_by: dt.datetime, now: dt.datetime) -> None:
    """Mean to be off later; an alarm may be raised again. Errors: Refused."""
    if not now < off_by <= now + LONGEST_STAY:
        raise Refused("off_by", _("Off the ice by: allowed is a time within the next 12 hours."))
    OnIce.objects.filter(id=stay.id, off_at=None).update(off_by=off_by, alarmed_at=None)


def alarm(*, id: UUID, now: dt.datetime) -> bool:
    """Tell coordinators and the rest of the shift of somebody who is not off in time; True when this call did."""
    with transaction.atomic():
        stay = (
            OnIce.objects.select_for_update(of=("self",))
            .select_related("rink", "person", "shift__rink")
            .filter(id=id, off_at=None, alarmed_at=None)
            .first()
        )
        if stay is None:
            return False
        if stay.off_by + dt.timedelta(minutes=rule_value(stay.rink, "off_ice_minutes")) > now:
            return False
        OnIce.objects.filter(id=id).update(alarmed_at=now)
        others = people_on(stay.shift) if stay.shift else []
        people = {one.id: one for one in [*coordinators(stay.rink), *others] if one.id != stay.person_id}
        saying.not_off_the_ice(stay=stay, people=list(people.values()), now=now)
    return True


def _refuse_alone(*, rink: Rink, person: Person, shift: Shift | None, now: dt.datetime) -> None:
    """After dark two are there: on the ice already, or on the same ice work; or somebody answers for it by name.

    Who is on a shift with somebody in the hut or at the gate is as alone on the ice as anybody.
    """
    if not is_dark(now, ZoneInfo(rink.time_zone), rink.latitude, rink.longitude):
        return
    on_ice_work = shift is not None and shift.roster == Shift.Roster.ICE
    if shift is not None and on_ice_work and (shift.alone_allowed_by_id or len(people_on(shift)) > 1):
        return
    if queries.on_ice_now(rink).exclude(person=person).exists():
        return
    raise Refused(
        "person",
        _(
            "It is dark, and nobody goes on the ice alone: wait for a second person, "
            "or ask a coordinator to answer for it by name."
        ),
    )
