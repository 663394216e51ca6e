"""A closed season is written in by keepers only."""

from django.utils.translation import gettext as _

from rinklog.crew.models import Membership, Person
from rinklog.facts import Refused
from rinklog.rink.models import Season


def refuse_when_closed(season: Season, by: Person, field: str = "started") -> None:
    """Raise Refused when a season is closed and this person does not keep its rink; one query, and only then."""
    if season.closed_at is None:
        return
    keeps = Membership.objects.filter(
        rink_id=season.rink_id, person=by, role=Membership.Role.KEEPER, left_at=None
    ).exists()
    if not keeps:
        raise Refused(
            field, _("Season %(name)s is closed; only the keeper still writes in it.") % {"name": season.name}
        )
