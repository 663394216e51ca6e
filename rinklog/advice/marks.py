"""A fingerprint of everything advice is made from: it tells whether stored advice is still what would be said."""

import datetime as dt
import hashlib

from django.db.models import Count, Max

from rinklog.ice.models import Outlook
from rinklog.rink.models import ChosenRule, PhaseChange, Rink, Zone
from rinklog.weather import queries as weather
from rinklog.weather.known import floor
from rinklog.work.models import Entry, EntryEvent, Hazard, HazardEvent

PAST, AHEAD = dt.timedelta(hours=48), dt.timedelta(hours=100)


def mark_of(rink: Rink, now: dt.datetime, known_at: dt.datetime | None = None) -> str:
    """A text that differs whenever the inputs do, the hour among them; nine small questions."""
    outlook = Outlook.objects.filter(rink=rink).values_list("made_at", "mark", "missing").first()
    entries = Entry.objects.filter(rink=rink).values_list("state").annotate(Count("id"), Max("recorded_at"))
    events = EntryEvent.objects.filter(root__rink=rink).aggregate(Count("id"), Count("undone_at"))
    hazards = HazardEvent.objects.filter(hazard__rink=rink).aggregate(Count("id"), Count("undone_at"))
    put_up = Hazard.objects.filter(rink=rink).aggregate(Count("id"), Max("recorded_at"))
    rules = ChosenRule.objects.filter(rink=rink).order_by("key").values_list("key", "value")
    phases = PhaseChange.objects.filter(season__rink=rink).order_by("id").values_list("phase", "on")
    zones = Zone.objects.filter(grid__rink=rink).aggregate(Count("id"))
    marked = Zone.objects.filter(grid__rink=rink).order_by("id").values_list("wears", "low_spot", "sun")
    sky = weather.fingerprint(rink, floor(now) - PAST, floor(now) + AHEAD, known_at=known_at)
    place = (rink.latitude, rink.longitude, rink.time_zone)
    said = (
        *(floor(now), outlook, sorted(entries), events, hazards, put_up, list(rules), list(phases)),
        *(zones, list(marked), sky, place),
    )
    return hashlib.sha256(repr(said).encode()).hexdigest()
