"""Reading people and memberships. Nothing here writes."""

from django.db.models import QuerySet

from rinklog.crew.models import Membership, Person
from rinklog.rink.models import Rink


def membership(person: Person, rink_slug: str) -> Membership | None:
    """The person's standing membership of a rink, with the rink, in one query."""
    return (
        Membership.objects.select_related("rink")
        .filter(person=person, rink__slug=rink_slug, left_at__isnull=True)
        .first()
    )


def rinks_of(person: Person) -> QuerySet[Membership]:
    """The rinks a person belongs to."""
    return (
        Membership.objects.select_related("rink")
        .filter(person=person, left_at__isnull=True)
        .order_by("rink__name")
    )


def crew_of(rink: Rink) -> list[Person]:
    """Everybody on a rink's crew who can be named on work (guests cannot)."""
    working = [role for role in Membership.Role if role != Membership.Role.GUEST]
    return list(
        Person.objects.filter(
            memberships__rink=rink, memberships__left_at__isnull=True, memberships__role__in=working
        ).order_by("name")
    )
