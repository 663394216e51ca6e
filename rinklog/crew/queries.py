"""Reading people and memberships. Nothing here writes."""

import datetime as dt
from uuid import UUID

from django.db.models import Expression, F, QuerySet

from rinklog.crew.models import Invitation, Membership, Person, ResetLink
from rinklog.crew.rights import Right, may, may_invite
from rinklog.crew.tokens import hash_of, typed_code
from rinklog.rink.models import Rink

STANDING = {"left_at__isnull": True}


def membership(person: Person, rink_slug: str, **also: Expression) -> Membership | None:
    """The person's standing membership of a rink, with the rink, in one query; `also` are further columns of it."""
    return (
        Membership.objects.select_related("rink")
        .filter(person=person, rink__slug=rink_slug, **STANDING)
        .annotate(**also)
        .first()
    )


def member(rink: Rink, person_id: UUID) -> Membership | None:
    """Somebody's standing membership of a rink, with the person."""
    return Membership.objects.select_related("person").filter(rink=rink, person=person_id, **STANDING).first()


def role_on(rink: Rink, person: Person) -> str | None:
    """What a person is on a rink now; None for nothing."""
    return (
        Membership.objects.filter(rink=rink, person=person, **STANDING).values_list("role", flat=True).first()
    )


def anybody_keeps() -> bool:
    """Whether anybody keeps a rink of this site: then it is claimed."""
    return Membership.objects.filter(role=Membership.Role.KEEPER, **STANDING).exists()


def members(rink: Rink) -> QuerySet[Membership]:
    """Everybody who is on a rink's crew now, by name, guests too."""
    return Membership.objects.select_related("person").filter(rink=rink, **STANDING).order_by("person__name")


def rinks_of(person: Person) -> QuerySet[Membership]:
    """The rinks a person belongs to."""
    return Membership.objects.select_related("rink").filter(person=person, **STANDING).order_by("rink__name")


def crew_of(rink: Rink) -> list[Person]:
    """Everybody on a rink's crew who can be named on work (guests cannot)."""
    working = [role for role in Membership.Role if role != Membership.Role.GUEST]
    return list(
        Person.objects.filter(
            memberships__rink=rink, memberships__left_at__isnull=True, memberships__role__in=working
        ).order_by("name")
    )


def is_last_keeper(member: Membership) -> bool:
    """Whether nobody but this member keeps the rink."""
    others = Membership.objects.filter(rink=member.rink, role=Membership.Role.KEEPER, **STANDING)
    return member.role == Membership.Role.KEEPER and not others.exclude(id=member.id).exists()


def keeps_every_rink(person: Person) -> bool:
    """Whether a person keeps every rink of the site: a backup of the site holds them all."""
    kept = Membership.objects.filter(person=person, role=Membership.Role.KEEPER, **STANDING)
    return not Rink.objects.exclude(id__in=kept.values("rink")).exists()


def may_make_rink(person: Person) -> bool:
    """Whether a person may make a rink: the first one anybody who got in by the claim, a further one any keeper."""
    keeps = Membership.objects.filter(person=person, role=Membership.Role.KEEPER, **STANDING)
    return keeps.exists() or not Rink.objects.exists()


def may_reset(by: Person, person: Person) -> bool:
    """Whether `by` may let a person choose a new password: only if every rink of that person is one `by` keeps.

    Otherwise the keeper of one rink could take over somebody's place on another.
    """
    theirs = set(Membership.objects.filter(person=person, **STANDING).values_list("rink", flat=True))
    kept = Membership.objects.filter(person=by, role=Membership.Role.KEEPER, **STANDING)
    return bool(theirs) and theirs <= set(kept.values_list("rink", flat=True))


def open_invitations(rink: Rink, role: str, now: dt.datetime) -> list[Invitation]:
    """Invitations that still let somebody in and that a person of `role` may hand out, the latest first."""
    standing = _open_invitations(now).filter(rink=rink).order_by("-made_at")
    return [invitation for invitation in standing if may_invite(role, invitation.role)]


def invitation(rink: Rink, id: UUID) -> Invitation | None:
    """An invitation of a rink, open or not."""
    return Invitation.objects.select_related("by").filter(rink=rink, id=id).first()


def invitation_by_link(*, token: str, now: dt.datetime) -> Invitation | None:
    """The open invitation behind a link."""
    return _open_invitations(now).filter(token_hash=hash_of(token)).first()


def invitation_by_code(text: str, now: dt.datetime) -> Invitation | None:
    """The open invitation behind a code, however it was typed."""
    return _open_invitations(now).filter(code_hash=hash_of(typed_code(text))).first()


def reset_by_link(*, token: str, now: dt.datetime) -> ResetLink | None:
    """The unused reset behind a link, as long as the keeper who made it could still make it."""
    found = (
        ResetLink.objects.select_related("person", "by")
        .filter(token_hash=hash_of(token), used_at=None, expires_at__gt=now)
        .first()
    )
    return found if found and may_reset(found.by, found.person) else None


def login_taken(login: str) -> bool:
    """Whether somebody has this login, in any case."""
    return Person.objects.filter(login__iexact=login).exists()


def _open_invitations(now: dt.datetime) -> QuerySet[Invitation]:
    """Not withdrawn, not used up, not too old, and made by somebody who still runs that crew."""
    running = [role for role in Membership.Role.values if may(role, Right.RUN_CREW)]
    return Invitation.objects.select_related("rink", "by").filter(
        withdrawn_at=None,
        uses_left__gt=0,
        expires_at__gt=now,
        by__memberships__rink=F("rink"),
        by__memberships__left_at=None,
        by__memberships__role__in=running,
    )
