"""Who has read the safety points of a kind of work, season by season."""

import datetime as dt

from rinklog.crew.models import Person, SafetyRead
from rinklog.rink.models import Season


def has_read(person: Person, season: Season, topic: str) -> bool:
    """Whether a person has read the points of a topic this season."""
    return SafetyRead.objects.filter(person=person, season=season, topic=topic).exists()


def read_safety(*, by: Person, season: Season, topic: str, now: dt.datetime) -> None:
    """Note that a person has read them; the first time of a season is kept."""
    SafetyRead.objects.get_or_create(person=by, season=season, topic=topic, defaults={"at": now})
