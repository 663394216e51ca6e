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
    members = Membership.objects.select_related("person").filter(rink=rink, left_at__isnull=True)
    return [member.person for member in members.exclude(role=Membership.Role.GUEST).order_by("person__name")]
