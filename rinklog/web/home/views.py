"""The first page of a rink, and the way to it."""

from typing import cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from rinklog.crew.models import Person
from rinklog.crew.queries import rinks_of
from rinklog.crew.rights import Right
from rinklog.rink.queries import zones
from rinklog.web.access import At, on_rink, signed_in
from rinklog.web.rinkmap.drawing import draw
from rinklog.web.rinkmap.marks import codes, marks
from rinklog.work import queries
from rinklog.work.kinds import KINDS


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
    last = list(queries.standing(at.rink)[:5])
    last_flood = next((entry for entry in last if entry.kind == "flood"), None)
    hazards = list(queries.open_hazards(at.rink)[:50])
    context = {
        "season": season,
        "drawing": draw(season.grid, zones(season.grid)),
        "last_zones": {row.zone_id for row in last_flood.zones.all()} if last_flood else set(),
        "kinds": KINDS.values(),
        "last": last,
        "hazards": hazards,
        "marks": marks(hazards, season.grid),
        "codes": {code.kind: code for code in codes()},
    }
    return render(request, "home/home.html", context)
