"""Numbered cones: which hazard a cone stands at. The latest place counts, as long as that hazard's cone is out."""

import datetime as dt
from uuid import UUID, uuid5

from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.rink.models import Rink
from rinklog.work.errors import Refused
from rinklog.work.models import ConeStand, Hazard
from rinklog.work.queries import OPEN_STATES

HIGHEST = 99


def cone_id(said: UUID) -> UUID:
    """The id of the note that goes with what was said of a hazard: its own id or that of the event."""
    return uuid5(said, "cone")


def put_cone(
    *, id: UUID, hazard: Hazard, number: int, at: dt.datetime, by: Person, now: dt.datetime
) -> ConeStand:
    """Note that a cone stands at a hazard; the same id again is the same note."""
    if not 1 <= number <= HIGHEST:
        raise Refused(
            "cone_number",
            _("The cone's number is %(number)d; allowed is 1 to %(highest)d.")
            % {"number": number, "highest": HIGHEST},
        )
    said = {"hazard": hazard, "number": number, "at": at, "by": by, "recorded_at": now}
    return ConeStand.objects.get_or_create(id=id, defaults=said)[0]


def hazard_of_cone(rink: Rink, number: int) -> Hazard | None:
    """The open hazard that a cone stands at, or None when the cone is free."""
    latest = (
        ConeStand.objects.select_related("hazard")
        .filter(hazard__rink=rink, number=number)
        .order_by("-at", "-recorded_at")
    ).first()
    there = latest.hazard if latest else None
    return there if there and _stands_at(there) else None


def _stands_at(hazard: Hazard) -> bool:
    return hazard.cone_out and hazard.state in OPEN_STATES


def hazards_by_cone(rink: Rink) -> dict[int, Hazard]:
    """The open hazards that numbered cones stand at, by the cones' numbers. One query."""
    stands = ConeStand.objects.select_related("hazard").filter(hazard__rink=rink)
    latest = {stand.number: stand.hazard for stand in stands.order_by("at", "recorded_at")}
    return {number: hazard for number, hazard in latest.items() if _stands_at(hazard)}


def cone_of(hazard: Hazard) -> int | None:
    """The number of the cone at a hazard, while it stands there and nowhere else."""
    latest = ConeStand.objects.filter(hazard=hazard).order_by("-at", "-recorded_at").first()
    if latest is None or hazard_of_cone(hazard.rink, latest.number) != hazard:
        return None
    return latest.number
