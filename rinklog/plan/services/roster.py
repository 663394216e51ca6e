"""Putting people on as a roster proposes: each place by the same door as any other."""

import datetime as dt
from collections.abc import Iterable
from uuid import NAMESPACE_URL, UUID, uuid5

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.plan.models import Shift
from rinklog.plan.services.places import take


def put_on(
    *, proposal: UUID, pairs: Iterable[tuple[Person, Shift]], by: Person, now: dt.datetime
) -> list[str]:
    """Put people on shifts, those who bring a skill first; returns a sentence for each who could not be.

    The same proposal again puts nobody on twice.
    """
    refused = []
    for person, shift in pairs:
        id = uuid5(NAMESPACE_URL, f"rinklog roster {proposal} {person.id} {shift.id}")
        try:
            take(id=id, shift=shift, person=person, by=by, now=now)
        except Refused as no:
            refused.append(f"{person.name}: {no.sentence}")
        except Conflict:
            continue
    return refused
