"""Who is on a shift: taking, giving back, passing on, putting on and off.

The last place goes to one person only: the shift is held while a place is given, and the database lets two people
have one place no more than it lets one person have two.
"""

import datetime as dt
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from rinklog import clock
from rinklog.crew import queries as crew
from rinklog.crew.models import Person
from rinklog.crew.rights import Right, may
from rinklog.facts import Conflict, Refused
from rinklog.plan import saying, saying_places
from rinklog.plan.models import Shift, ShiftPlace
from rinklog.plan.queries import people, shifts
from rinklog.plan.rules.may_take import hindrance
from rinklog.plan.words import name_of, why_not
from rinklog.rink.queries import rule_value

Left = ShiftPlace.Left


def take(*, id: UUID, shift: Shift, person: Person, by: Person, now: dt.datetime) -> ShiftPlace:
    """Put a person on a shift; the same id again is the same place. Errors: Refused("place", …), Conflict."""
    try:
        with transaction.atomic():
            place, made = _placed(id=id, shift=shift, person=person, by=by, now=now)
            if made and by.id != person.id:
                saying.assigned(shift=place.shift, person=person, place_id=place.id, now=now)
    except IntegrityError:
        # Two at the very same moment: the database let one through, and this is the other.
        return _who_was_first(id=id, shift=shift, person=person)
    return place


def give_back(*, place: ShiftPlace, by: Person, now: dt.datetime) -> None:
    """Leave a shift; others can take the place. Coordinators hear of it when it is soon, and whoever is taken off."""
    own = by.id == place.person_id
    with transaction.atomic():
        left = _leave(place=place, how=Left.GIVEN_BACK if own else Left.TAKEN_OFF, now=now)
        if not left or place.shift.is_off or place.shift.ends_at <= now:
            return
        if not own:
            saying_places.taken_off(place=place, now=now)
        elif place.shift.starts_at - now <= _soon(place.shift):
            running = [one for one in people.coordinators(place.shift.rink) if one.id != by.id]
            saying_places.given_back(place=place, coordinators=running, now=now)


def offer(*, place: ShiftPlace, to: Person, by: Person, now: dt.datetime) -> None:
    """Ask somebody to take one's place over; it stays one's own until they do. Errors: Refused."""
    with transaction.atomic():
        held = _held_place(place)
        _refuse_when_over(held.shift, now)
        if to.id == held.person_id:
            raise Refused("to", _("You cannot pass a shift on to yourself; choose somebody else."))
        _refuse_unless_fit(held.shift, to, leaving=held)
        if held.offered_to_id == to.id:
            return
        ShiftPlace.objects.filter(id=held.id).update(offered_to=to)
        key = f"offered {held.id} {to.id}"
        saying_places.offered(shift=held.shift, person=to, giver=held.person, key=key, now=now)


def accept(*, id: UUID, place: ShiftPlace, by: Person, now: dt.datetime) -> ShiftPlace:
    """Take over a place that was offered; the same id again is the same place. Errors: Refused, Conflict."""
    with transaction.atomic():
        known = ShiftPlace.objects.filter(id=id).select_related("shift__rink").first()
        if known:
            return _same_or_conflict(known, place.shift, by)
        held = _held_place(place)
        if held.offered_to_id != by.id:
            raise Refused("place", _("This place is no longer offered to you."))
        _refuse_when_over(held.shift, now)
        _refuse_unless_fit(held.shift, by, leaving=held)
        _mark_left(held, Left.PASSED_ON, now)
        saying_places.taken_over(place=held, by=by, now=now)
        return ShiftPlace.objects.create(
            id=id, shift=held.shift, person=by, number=held.number, leads=held.leads, by=by, taken_at=now
        )


def decline(*, place: ShiftPlace, by: Person, now: dt.datetime) -> None:
    """Say no to an offered place; it stays with whoever has it, and they are told."""
    asked = ShiftPlace.objects.filter(id=place.id, offered_to=by, left_at=None)
    with transaction.atomic():
        if asked.update(offered_to=None):
            saying_places.declined(place=place, by=by, now=now)


def hand_back_all(*, rink_id: UUID, person: Person, now: dt.datetime) -> int:
    """Give back every place ahead of somebody who is off the crew; they and the coordinators are told once.

    Returns how many.
    """
    with transaction.atomic():
        places = [one for one in shifts.places_ahead(person, now) if one.shift.rink_id == rink_id]
        for place in places:
            _leave(place=place, how=Left.LEFT_CREW, now=now)
            saying_places.handed_back(
                place=place, coordinators=people.coordinators(place.shift.rink), now=now
            )
    return len(places)


def _placed(
    *, id: UUID, shift: Shift, person: Person, by: Person, now: dt.datetime
) -> tuple[ShiftPlace, bool]:
    held = locked(shift)
    known = ShiftPlace.objects.filter(id=id).select_related("shift__rink").first()
    if known:
        return _same_or_conflict(known, held, person), False
    there = ShiftPlace.objects.filter(shift=held, left_at=None).select_related("person")
    for one in there:
        if one.person_id == person.id:
            return one, False  # on it already, by another tap
    _refuse_when_over(held, now)
    _refuse_unless_fit(held, person)
    taken = {one.number for one in there}
    number = next(n for n in range(1, held.people_needed + 1) if n not in taken)
    place = ShiftPlace.objects.create(id=id, shift=held, person=person, number=number, by=by, taken_at=now)
    return place, True


def locked(shift: Shift) -> Shift:
    """Read a shift again and hold it until the transaction ends."""
    return Shift.objects.select_for_update(of=("self",)).select_related("rink").get(id=shift.id)


def _held_place(place: ShiftPlace) -> ShiftPlace:
    """Read a place again with its shift held. Errors: Refused when it was left meanwhile."""
    held = locked(place.shift)
    again = ShiftPlace.objects.select_related("person").filter(id=place.id, left_at=None).first()
    if again is None:
        raise Refused("place", _("That place was left meanwhile."))
    again.shift = held
    return again


def _refuse_when_over(shift: Shift, now: dt.datetime) -> None:
    if shift.is_off:
        raise Refused("place", _("%(shift)s is called off.") % {"shift": name_of(shift)})
    if shift.ends_at <= now:
        raise Refused("place", _("%(shift)s is over.") % {"shift": name_of(shift)})


def _refuse_unless_fit(shift: Shift, person: Person, leaving: ShiftPlace | None = None) -> None:
    """Refuse somebody who is not on the crew, may not take the place, or is elsewhere then."""
    if not may(crew.role_on(shift.rink, person), Right.LOG):
        raise Refused("place", _("%(name)s is not on this crew.") % {"name": person.name})
    day = clock.local_day(shift.starts_at, ZoneInfo(shift.rink.time_zone))
    there = ShiftPlace.objects.filter(shift=shift, left_at=None)
    ids = [one.person_id for one in there if leaving is None or one.id != leaving.id]
    held = people.held_on(shift.rink, day, [*ids, person.id])
    on_it = [held.get(one, people.NOTHING) for one in ids]
    if found := hindrance(shifts.wants_of(shift), on_it, held.get(person.id, people.NOTHING)):
        raise Refused("place", why_not(found, shift))
    if other := shifts.clash(person.id, shift):
        raise Refused(
            "place",
            _("%(name)s is on another shift then: %(shift)s.")
            % {"name": person.name, "shift": name_of(other)},
        )


def _soon(shift: Shift) -> dt.timedelta:
    """How long before a shift it matters to coordinators that it lacks people."""
    return dt.timedelta(minutes=rule_value(shift.rink, "unfilled_minutes"))


def _leave(*, place: ShiftPlace, how: str, now: dt.datetime) -> bool:
    """Leave a place, once; True when this call did it."""
    with transaction.atomic():
        held = locked(place.shift)
        left = _mark_left(place, how, now)
        if left:
            Shift.objects.filter(id=held.id).update(changed=held.changed + 1)
            place.shift = held
    return left


def _mark_left(place: ShiftPlace, how: str, now: dt.datetime) -> bool:
    """Leave a place, once; True when this call did it."""
    left = ShiftPlace.objects.filter(id=place.id, left_at=None)
    return left.update(left_at=now, left_how=how, offered_to=None) == 1


def _same_or_conflict(known: ShiftPlace, shift: Shift, person: Person) -> ShiftPlace:
    if known.shift_id != shift.id or known.person_id != person.id:
        raise Conflict(known)
    return known


def _who_was_first(*, id: UUID, shift: Shift, person: Person) -> ShiftPlace:
    again = ShiftPlace.objects.filter(shift=shift, person=person, left_at=None).first()
    if again:
        return again
    raise Refused("place", _("%(shift)s is full: somebody was quicker.") % {"shift": name_of(shift)})
