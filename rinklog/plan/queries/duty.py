"""Who is on duty. Nothing here writes."""

import datetime as dt

from rinklog.crew.models import Person
from rinklog.plan.queries.people import coordinators
from rinklog.plan.queries.shifts import ahead, people_on
from rinklog.rink.models import Rink


def on_duty(rink: Rink, now: dt.datetime, until: dt.datetime) -> list[Person]:
    """Who is on a shift that is not over and begins by then, and who runs the crew."""
    found = {person.id: person for person in coordinators(rink)}
    for shift in ahead(rink, now):
        if shift.starts_at <= until:
            found |= {person.id: person for person in people_on(shift)}
    return sorted(found.values(), key=lambda person: person.name)
