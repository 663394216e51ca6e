"""The rink map with its layers, and the same for other maps."""

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from rinklog.crew.rights import Right
from rinklog.rink.queries import zones
from rinklog.web.access import At, on_rink
from rinklog.web.rinkmap.drawing import draw
from rinklog.web.rinkmap.features import collection, local_metres, place_of
from rinklog.web.rinkmap.layers import LEGENDS, TITLES, cells, rows
from rinklog.web.rinkmap.marks import codes, marks
from rinklog.work.queries import open_hazards


@on_rink(Right.SEE)
@require_safe
def rink_map(request: HttpRequest, at: At) -> HttpResponse:
    """The map in one layer, with a number in every zone, and a table of all layers beside it."""
    layer = request.GET.get("layer", "flood")
    if layer not in TITLES:
        raise Http404
    season = at.season
    grid_zones = zones(season.grid)
    drawing = draw(season.grid, grid_zones)
    hazards, in_zones = rows(season, grid_zones, layer, at.now)
    context = {
        "drawing": drawing,
        "cells": cells(drawing, in_zones, layer),
        "rows": in_zones,
        "layer": layer,
        "layers": TITLES.items(),
        "layer_title": TITLES[layer],
        "steps": list(enumerate(LEGENDS[layer])),
        "marks": marks(hazards, season.grid) if layer == "hazards" else [],
        "codes": codes(),
        "linked": True,
    }
    return render(request, "rinkmap/map.html", context)


@on_rink(Right.SEE)
@require_safe
def geojson(request: HttpRequest, at: At) -> JsonResponse:
    """Zones and open hazards as GeoJSON, or in rink-local metres as plain JSON that says so."""
    grid = at.season.grid
    grid_zones, hazards = zones(grid), list(open_hazards(at.rink))
    place = place_of(at.rink, grid)
    if place is None:
        return JsonResponse(local_metres(at.rink, grid, grid_zones, hazards))
    found = collection(at.rink, grid, grid_zones, hazards, place)
    return JsonResponse(found, content_type="application/geo+json")
