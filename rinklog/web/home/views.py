"""The first page of a rink, and the way to it."""

import datetime as dt
from typing import Any, cast
from uuid import UUID, uuid4

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from rinklog.advice.queries import most_urgent
from rinklog.crew.models import Person
from rinklog.crew.queries import rinks_of
from rinklog.crew.rights import Right
from rinklog.records.queries import current_opening
from rinklog.rink.queries import zones_on
from rinklog.web.access import At, on_rink, signed_in
from rinklog.web.offline.precache import pages_to_keep
from rinklog.web.rinkmap.drawing import draw
from rinklog.web.rinkmap.marks import codes, marks
from rinklog.web.tonight.showing import item_line, shower
from rinklog.work import log_queries, queries
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry, EntryEvent, Kind

LAST_ROWS = 5
HAZARD_ROWS = 50


@signed_in
def front(request: HttpRequest) -> HttpResponse:
    """Straight to the rink when there is one; a list when there are several."""
    members = list(rinks_of(cast(Person, request.user)))
    if len(members) == 1:
        return redirect("home", slug=members[0].rink.slug)
    return render(request, "home/front.html", {"members": members})


@on_rink(Right.SEE)
def home(request: HttpRequest, at: At) -> HttpResponse:
    """What is open now, a big button for each kind of work, the last work, open hazards on the map."""
    season = at.season
    sheet, low_zones = zones_on(season, at.today)
    hazards = list(queries.open_hazards(at.rink)[:HAZARD_ROWS])
    bare = [hazard for hazard in hazards if not hazard.cone_out]
    context = {
        "season": season,
        "opening": current_opening(at.rink, at.now),
        "waiting": [waiting(entry) for entry in log_queries.open_now(at.rink, at.now)],
        "bare_hazards": bare,
        "bare_count": len(bare),
        "hazards": hazards,
        "marks": marks(hazards, season.grid),
        "codes": {code.kind: code for code in codes()},
        "kinds": KINDS.values(),
        "timed": [kind for kind in KINDS.values() if kind.key in (Kind.FLOOD, Kind.SNOW_REMOVAL)],
        "last": log_queries.latest(at.rink, LAST_ROWS),
        "drawing": draw(season.grid, sheet),
        # While the ice is built only the low spots are flooded, so the map shows them.
        "low_zones": low_zones,
        "last_zones": log_queries.last_flooded_zones(at.rink),
        "done": just_done(request, at),
        "keep_forms": " ".join(pages_to_keep(at.rink.slug, hazards)),
        "urgent": urgent(at),
    }
    return render(request, "home/home.html", context)


def urgent(at: At) -> dict[str, Any] | None:
    """The most urgent advice, for the strip at the top."""
    item = most_urgent(at.rink, at.now)
    return item_line(item, at, shower(at)) if item else None


def waiting(entry: Entry) -> dict[str, Any]:
    """An entry that waits for somebody, and the one tap that answers it."""
    return {"entry": entry, "cover": KINDS[entry.kind].stays_open, "set": uuid4(), "frozen": uuid4()}


def just_done(request: HttpRequest, at: At) -> EntryEvent | None:
    """What this person said a moment ago from here, to take back with one tap."""
    try:
        event = log_queries.event(at.rink, UUID(request.GET.get("done", "")))
    except ValueError:
        return None
    if event is None or event.by_id != at.person.id or event.undone_at:
        return None
    return event if at.now - event.recorded_at < dt.timedelta(minutes=2) else None


@on_rink(Right.SEE)
def more(request: HttpRequest, at: At) -> HttpResponse:
    """The pages that are not needed every evening."""
    return render(request, "home/more.html")
