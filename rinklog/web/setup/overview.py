"""The way to every page of the set-up."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from rinklog.crew.rights import Right
from rinklog.records.queries import publicity
from rinklog.rink import queries
from rinklog.web.access import At, on_rink
from rinklog.web.rinkmap.drawing import draw


@on_rink(Right.SEE)
def setup(request: HttpRequest, at: At) -> HttpResponse:
    """How the rink is set up, and the pages that change it for those who may."""
    season = at.season
    zones = queries.zones(season.grid)
    changes = queries.phases(season)
    context = {
        "season": season,
        "grid": season.grid,
        "drawing": draw(season.grid, zones),
        "low_zones": {zone.id for zone in zones if zone.low_spot},
        "surveyed": sum(zone.depth_m is not None for zone in zones),
        "area_m2": sum(zone.area_m2 for zone in zones),
        "zone_count": len(zones),
        "phase": queries.phase_on(season, at.today),
        "restarts": queries.restarts(changes),
        "chosen_rules": sum(one.chosen for one in queries.rules(at.rink)),
        "public": publicity(at.rink),
        "hose_test": queries.bucket_tests(at.rink).first(),
    }
    return render(request, "setup/setup.html", context)
