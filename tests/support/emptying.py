"""Makes the site as empty as on its first day, within a test."""

import datetime as dt

from django.apps import apps

from rinklog.crew.models import Membership, Person
from rinklog.rink.models import Rink
from rinklog.rink.services import RinkSize, make_rink


def empty_the_site() -> None:
    """Remove every row of ours; the database checks references only at the end."""
    for model in apps.get_models(include_auto_created=True):
        if model.__module__.startswith("rinklog."):
            model._base_manager.all()._raw_delete(model._base_manager.db)


def begin_again(now: dt.datetime) -> tuple[Rink, Person]:
    """An empty site on its first day: one rink of the usual size and its keeper."""
    empty_the_site()
    rink = make_rink(
        name="First Rink",
        place="",
        size=RinkSize(40, 20, 4),
        time_zone="Europe/Oslo",
        rows=8,
        columns=4,
        starts_on=now.date(),
        now=now,
    )
    keeper = Person.objects.create(login="kim", name="Kim")
    Membership.objects.create(person=keeper, rink=rink, role=Membership.Role.KEEPER, since=now)
    return rink, keeper
