"""Shifts as iCalendar (RFC 5545). The library is imported where it is used.

A shift keeps its UID whatever happens to it. SEQUENCE only grows: with every move and call-off, and with every coming
and going of people, so that a calendar which knows an older one takes the newer. What is called off, or what a person
has left, stays as CANCELLED: an event that merely vanished would stand in many calendars for ever.
"""

import datetime as dt
from collections.abc import Sequence
from typing import Any
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.plan.addresses import shift_path
from rinklog.plan.models import Shift, ShiftPlace
from rinklog.rink.models import Rink

FETCH_AGAIN = dt.timedelta(hours=1)
YEAR = dt.timedelta(days=366)
PRODUCT = "-//rinklog//shifts//EN"


def calendar_text(
    *, rink: Rink, shifts: Sequence[Shift], person: Person | None, origin: str, now: dt.datetime
) -> bytes:
    """The calendar of a rink's shifts, or of one person's; times on the rink's clock with its VTIMEZONE.

    Arguments: shifts [from queries/calendar.py], origin [https://host, the beginning of links]. Returns: UTF-8, CRLF.
    """
    from icalendar import Calendar, Timezone

    zone = ZoneInfo(rink.time_zone)
    title = _("My shifts, %(rink)s") if person else _("Shifts, %(rink)s")
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("name", title % {"rink": rink.name})
    calendar.add("x-wr-calname", title % {"rink": rink.name})
    calendar.add("refresh-interval", FETCH_AGAIN, parameters={"VALUE": "DURATION"})
    starts = [one.starts_at for one in shifts] or [now]
    first, last = (min(starts) - YEAR).date(), (max(starts) + YEAR).date()
    calendar.add_component(Timezone.from_tzinfo(zone, rink.time_zone, first_date=first, last_date=last))
    for shift in shifts:
        calendar.add_component(event_of(shift, person, zone, origin))
    return calendar.to_ical()


def event_of(shift: Shift, person: Person | None, zone: ZoneInfo, origin: str) -> Any:
    """One shift as an event."""
    from icalendar import Event

    places: list[ShiftPlace] = shift.every_place  # type: ignore[attr-defined]
    own = [place for place in places if person is None or place.person_id == person.id]
    event = Event()
    event.add("uid", f"shift-{shift.id}@rinklog")
    event.add("sequence", sequence(shift, own))
    event.add("dtstamp", touched(shift))
    event.add("last-modified", touched(shift))
    event.add("created", shift.made_at)
    event.add("dtstart", shift.starts_at.astimezone(zone))
    event.add("dtend", shift.ends_at.astimezone(zone))
    event.add("status", status(shift, own if person else None))
    event.add("summary", summary(shift, places))
    event.add("description", description(shift, places))
    event.add("location", ", ".join(filter(None, [shift.rink.name, shift.rink.place])))
    if shift.rink.latitude is not None and shift.rink.longitude is not None:
        event.add("geo", (shift.rink.latitude, shift.rink.longitude))
    event.add("url", origin + shift_path(shift))
    event.add("class", "PRIVATE")
    event.add("transp", "OPAQUE" if person else "TRANSPARENT")
    return event


def sequence(shift: Shift, places: Sequence[ShiftPlace]) -> int:
    """How often it changed: never less than before."""
    return shift.changed + len(places) + sum(place.left_at is not None for place in places)


def status(shift: Shift, own: Sequence[ShiftPlace] | None) -> str:
    """CANCELLED when it is off or this person has left it, TENTATIVE while the forecast questions it."""
    has_left = own is not None and not any(place.left_at is None for place in own)
    if shift.is_off or has_left:
        return "CANCELLED"
    return "TENTATIVE" if shift.questioned_at else "CONFIRMED"


def touched(shift: Shift) -> dt.datetime:
    """When anything of it last changed."""
    moments = [shift.made_at, *(event.at for event in shift.every_event)]  # type: ignore[attr-defined]
    for place in shift.every_place:  # type: ignore[attr-defined]
        moments += [place.taken_at, *([place.left_at] if place.left_at else [])]
    return max(moments)


def summary(shift: Shift, places: Sequence[ShiftPlace]) -> str:
    """What it is, and whether it still lacks people."""
    there = sum(place.left_at is None for place in places)
    said = {"work": str(shift.get_work_display()).capitalize(), "rink": shift.rink.name}
    said |= {"there": str(there), "needed": str(shift.people_needed)}
    if shift.is_off:
        return _("Called off: %(work)s, %(rink)s") % said
    if there < shift.people_needed:
        return _("%(work)s, %(rink)s (%(there)s of %(needed)s)") % said
    return _("%(work)s, %(rink)s") % said


def description(shift: Shift, places: Sequence[ShiftPlace]) -> str:
    """Who is on it, what was noted, and the caution that belongs to it."""
    names = [place.person.name for place in places if place.left_at is None]
    lines = [", ".join(names) or _("Nobody yet."), shift.note]
    if shift.questioned_at and not shift.is_off:
        lines.append(_("The forecast puts this shift in question: a coordinator decides."))
    if shift.roster == Shift.Roster.ICE:
        lines.append(_("Nobody is alone on the ice at night; look at the ice before you go on it."))
    return "\n".join(filter(None, lines))
