"""The ways in: claiming a new site, an invitation to a crew, a link to choose a new password.

Each can be used as often as it says and no oftener, also when two try at the same moment: a conditional update decides.
"""

import datetime as dt
from dataclasses import asdict, dataclass
from uuid import UUID, uuid4

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils.translation import gettext_lazy as _

from rinklog.crew import queries, services
from rinklog.crew.models import Invitation, Membership, Person, ResetLink
from rinklog.crew.rights import may_invite
from rinklog.crew.tokens import code_of, hash_of, token_of
from rinklog.facts import Refused
from rinklog.rink.models import Rink
from rinklog.upkeep import services as upkeep

RESET_LIVES = dt.timedelta(days=2)
USED_UP = _("This way in is used up, withdrawn or too old. Ask a keeper for a new one.")
LOGIN_TAKEN = _("Login is “{login}”, which somebody has already; choose another.")


@dataclass(frozen=True)
class NewPerson:
    """What somebody says about themselves when they come in for the first time."""

    login: str
    name: str
    password: str
    reading: services.Reading = services.Reading()


def make_person(new: NewPerson) -> Person:
    """Make a person who can sign in; refused when the login is taken."""
    taken = Refused("login", LOGIN_TAKEN.format(login=new.login))
    if queries.login_taken(new.login):
        raise taken
    person = Person(login=new.login, name=new.name, **asdict(new.reading))
    person.set_password(new.password)
    try:
        with transaction.atomic():
            person.save()
    except IntegrityError:
        raise taken from None
    return person


def claim_site(*, token: str, new: NewPerson, now: dt.datetime) -> Person:
    """Let the one who started the site in; refused when the link is used, too old or replaced."""
    with transaction.atomic():
        if queries.anybody_keeps() or not upkeep.use_claim(token=token, now=now):
            raise Refused("token", USED_UP)
        return make_person(new)


def invite(
    *,
    id: UUID,
    rink: Rink,
    role: str,
    by: Person,
    now: dt.datetime,
    days: int = 7,
    uses: int = 1,
) -> Invitation:
    """Make an invitation; the same id again is the same invitation."""
    if not may_invite(queries.role_on(rink, by), role):
        raise Refused("role", _("Your role on this crew cannot invite somebody as that."))
    invitation, _made = Invitation.objects.get_or_create(
        id=id,
        defaults={
            "rink": rink,
            "role": role,
            "by": by,
            "token_hash": hash_of(token_of(id)),
            "code_hash": hash_of(code_of(id)),
            "made_at": now,
            "expires_at": now + dt.timedelta(days=days),
            "uses_left": uses,
        },
    )
    if invitation.rink_id != rink.id:
        raise Refused("role", USED_UP)
    return invitation


def withdraw_invitation(*, invitation: Invitation, now: dt.datetime) -> None:
    """Close an invitation for good."""
    Invitation.objects.filter(id=invitation.id, withdrawn_at=None).update(withdrawn_at=now)


def accept_invitation(
    *, invitation: Invitation, person: Person | None, new: NewPerson | None, now: dt.datetime
) -> Membership:
    """Join a crew as somebody who is signed in, or as somebody new. Already on the crew: nothing is used up."""
    with transaction.atomic():
        if person and (member := queries.member(invitation.rink, person.id)):
            return member
        open_still = Invitation.objects.filter(
            id=invitation.id, withdrawn_at=None, uses_left__gt=0, expires_at__gt=now
        )
        if not open_still.update(uses_left=F("uses_left") - 1):
            raise Refused("token", USED_UP)
        if person is None:
            assert new is not None, "somebody must come in"
            person = make_person(new)
        return services.join(person=person, rink=invitation.rink, role=invitation.role, now=now)


def make_reset(*, person: Person, by: Person, now: dt.datetime) -> str:
    """Make the one-time link with which a person chooses a new password, and return its token.

    Any earlier unused one for the person stops working. Refused when the person is on a rink that `by` does not keep.
    """
    if not queries.may_reset(by, person):
        sentence = _(
            "{name} is also on a crew that you do not keep, so only somebody who keeps all of their rinks can do this."
        )
        raise Refused("person", sentence.format(name=person.name))
    token = token_of(uuid4())
    with transaction.atomic():
        ResetLink.objects.filter(person=person, used_at=None).delete()
        ResetLink.objects.create(
            token_hash=hash_of(token), person=person, by=by, made_at=now, expires_at=now + RESET_LIVES
        )
    return token


def use_reset(*, link: ResetLink, password: str, now: dt.datetime) -> Person:
    """Set the new password; the link is used up and every session of the person ends."""
    with transaction.atomic():
        unused = ResetLink.objects.filter(id=link.id, used_at=None, expires_at__gt=now)
        if not unused.update(used_at=now):
            raise Refused("token", USED_UP)
        services.set_password(person=link.person, password=password)
        services.end_all_sessions(person=link.person)
    return link.person


def found_rink(*, by: Person, rink: Rink, now: dt.datetime) -> Membership:
    """The one who makes a rink is its first keeper."""
    return services.join(person=by, rink=rink, role=Membership.Role.KEEPER, now=now)
