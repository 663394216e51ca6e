"""The invented crew: nine people nobody has met."""

import datetime as dt
from dataclasses import dataclass

from rinklog.crew.models import Membership, Person
from rinklog.rink.models import Rink

PASSWORD = "thin coats freeze fast"
Role = Membership.Role
US_UNITS = {"depth_unit": "in", "water_unit": "gal", "temperature_unit": "F", "speed_unit": "mph"}


@dataclass(frozen=True)
class Invented:
    """One member of the crew."""

    login: str
    name: str
    role: str
    us_units: bool = False


CREW = (
    Invented("runa", "Runa Rimlid", Role.KEEPER),
    Invented("odo", "Odo Spadeholt", Role.COORDINATOR),
    Invented("tilde", "Tilde Slangemo", Role.COORDINATOR),
    Invented("miko", "Miko Vassbøtte", Role.VOLUNTEER),
    Invented("jorun", "Jorun Kjegleby", Role.VOLUNTEER),
    Invented("bas", "Bas Teppeland", Role.VOLUNTEER),
    Invented("siw", "Siw Lyktegard", Role.VOLUNTEER),
    Invented("ante", "Ante Istappen", Role.VOLUNTEER, us_units=True),
    Invented("nor", "Nor Tribuneli", Role.GUEST),
)


def make_crew(rink: Rink, since: dt.datetime) -> dict[str, Person]:
    """Make everybody with their place on the rink; returns them by login.

    Somebody who has one of these logins already keeps it, and their password, and joins no crew.
    """
    taken = {login.lower() for login in Person.objects.values_list("login", flat=True)}
    prefix = "demo-" if any(one.login in taken for one in CREW) else ""
    return {one.login: make_person(one, prefix, rink, since) for one in CREW}


def make_person(one: Invented, prefix: str, rink: Rink, since: dt.datetime) -> Person:
    """Make one person who signs in with the demo password."""
    units = US_UNITS if one.us_units else {}
    person = Person(login=prefix + one.login, name=one.name, **units)
    person.set_password(PASSWORD)
    person.save()
    Membership.objects.create(person=person, rink=rink, role=one.role, since=since)
    return person
