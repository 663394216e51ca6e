"""What happens to people once they are in: roles, leaving, passwords, how they read numbers.

Keyword-only, one transaction each, safe to call twice.
"""

import datetime as dt
from dataclasses import asdict, dataclass

from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext_lazy as _

from rinklog.crew import queries
from rinklog.crew.models import Invitation, Membership, Person
from rinklog.crew.rights import Right, may, may_invite
from rinklog.facts import Refused
from rinklog.rink.models import Rink

LAST_KEEPER = _("{name} is the last keeper of {rink}; make somebody else a keeper first.")


@dataclass(frozen=True)
class Reading:
    """How a person reads pages: language and units."""

    language: str = "en"
    depth_unit: str = Person.Depth.MM
    water_unit: str = Person.Water.LITRE
    temperature_unit: str = Person.Temperature.CELSIUS
    speed_unit: str = Person.Speed.KMH


US_READING = Reading(
    "en", Person.Depth.IN, Person.Water.US_GALLON, Person.Temperature.FAHRENHEIT, Person.Speed.MPH
)


@transaction.atomic
def join(*, person: Person, rink: Rink, role: str, now: dt.datetime) -> Membership:
    """Put a person on a crew. Somebody who is on it keeps their role; somebody who left comes back with the new one."""
    member, made = Membership.objects.get_or_create(
        person=person, rink=rink, defaults={"role": role, "since": now}
    )
    if not made and member.left_at is not None:
        member.role, member.since, member.left_at = role, now, None
        member.save(update_fields=["role", "since", "left_at"])
    return member


@transaction.atomic
def change_role(*, member: Membership, role: str, by: Person, now: dt.datetime) -> Membership:
    """Make a member something else. Refused for the last keeper of a rink."""
    member = locked(member)
    require_keeper_of(member=member, by=by)
    if role != Membership.Role.KEEPER:
        refuse_last_keeper(member)
    member.role = role
    member.save(update_fields=["role"])
    withdraw_what_they_may_not_give(member=member, now=now)
    return member


@transaction.atomic
def end_membership(*, member: Membership, by: Person, now: dt.datetime) -> None:
    """A member leaves or is taken off the crew; their name stays on what they did. Refused for the last keeper."""
    member = locked(member)
    if by.id != member.person_id:
        require_keeper_of(member=member, by=by)
    if member.left_at is not None:
        return
    refuse_last_keeper(member)
    member.left_at = now
    member.save(update_fields=["left_at"])
    withdraw_what_they_may_not_give(member=member, now=now)


def locked(member: Membership) -> Membership:
    """Read the member again with the crew's keepers held, so that two keepers cannot step down at the same moment."""
    list(Membership.objects.select_for_update().filter(rink=member.rink_id, role=Membership.Role.KEEPER))
    return Membership.objects.select_related("person", "rink").get(id=member.id)


def require_keeper_of(*, member: Membership, by: Person) -> None:
    """Only a keeper of the same rink changes somebody's place on it; asked again here, with the crew held."""
    if not may(queries.role_on(member.rink, by), Right.KEEP):
        raise Refused("role", _("Only a keeper of this rink can do that."))


def refuse_last_keeper(member: Membership) -> None:
    """A rink without a keeper could never be kept again."""
    if queries.is_last_keeper(member):
        raise Refused("role", LAST_KEEPER.format(name=member.person.name, rink=member.rink.name))


def withdraw_what_they_may_not_give(*, member: Membership, now: dt.datetime) -> None:
    """Invitations go with the role of the one who made them."""
    role = None if member.left_at else member.role
    given = Invitation.objects.filter(rink=member.rink_id, by=member.person_id, withdrawn_at=None)
    lost = [one.id for one in given if not may_invite(role, one.role)]
    Invitation.objects.filter(id__in=lost).update(withdrawn_at=now)


def read_as(*, person: Person, reading: Reading) -> None:
    """Set a person's language and units."""
    Person.objects.filter(id=person.id).update(**asdict(reading))
    person.refresh_from_db()


def rename(*, person: Person, name: str) -> None:
    """Set the name that stands beside what a person does."""
    Person.objects.filter(id=person.id).update(name=name)
    person.name = name


@transaction.atomic
def set_password(*, person: Person, password: str) -> None:
    """Set a password; every session made under the old one ends."""
    person.set_password(password)
    person.save(update_fields=["password"])


def end_all_sessions(*, person: Person) -> None:
    """Sign a person out on every device."""
    Person.objects.filter(id=person.id).update(session_round=F("session_round") + 1)
    person.refresh_from_db()
