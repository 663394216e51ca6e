"""Who is on the ice. Nothing here writes."""

from uuid import UUID

from django.db.models import QuerySet

from rinklog.crew.models import Person
from rinklog.plan.models import OnIce
from rinklog.rink.models import Rink


def on_ice_now(rink: Rink) -> QuerySet[OnIce]:
    """Everybody who went on and is not off, the longest first."""
    return OnIce.objects.filter(rink=rink, off_at=None).select_related("person", "shift__rink", "noted_by")


def stay_of(rink: Rink, person: Person) -> OnIce | None:
    """The stay of somebody who is on the ice now."""
    return on_ice_now(rink).filter(person=person).first()


def stay(rink: Rink, id: UUID) -> OnIce | None:
    """One stay on the ice of a rink, ended or not."""
    return OnIce.objects.select_related("person", "shift__rink").filter(rink=rink, id=id).first()
