"""The rink map with its layers, and the same for other maps."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from rinklog.crew.rights import Right
from rinklog.rink.models import Zone
from rinklog.rink.queries import zones
from rinklog.web.access import At, on_rink
from rinklog.web.ice.showing import ice_context
from rinklog.web.middleware import current_units
from rinklog.web.rinkmap.drawing import Drawing, draw
from rinklog.web.rinkmap.features import collection, local_metres, place_of
from rinklog.web.rinkmap.ice_layers import ICE_TITLES, ice_legend, ice_rows, unit_sentence
from rinklog.web.rinkmap.layers import LEGENDS, TITLES, cells, rows
from rinklog.web.rinkmap.marks import codes, marks
from rinklog.work.queries import open_hazards


@on_rink(Right.SEE)
@require_safe
def rink_map(request: HttpRequest, at: At) -> HttpResponse:
    """The map in one layer, with a number in every zone, and a table beside it."""
    layer = request.GET.get("layer", "flood")
    titles = TITLES | ICE_TITLES
    if layer not in titles:
        raise Http404
    grid_zones = zones(at.season.grid)
    drawing = draw(at.season.grid, grid_zones)
    show = ice_layer if layer in ICE_TITLES else work_layer
    context = {
        "drawing": drawing,
        "layer": layer,
        "layers": titles.items(),
        "layer_title": titles[layer],
        "codes": codes(),
        "linked": True,
    }
    return render(request, "rinkmap/map.html", context | show(at, grid_zones, drawing, layer))


def work_layer(at: At, grid_zones: list[Zone], drawing: Drawing, layer: str) -> dict[str, Any]:
    """A layer of what was done or found; the table has all of these."""
    hazards, in_zones = rows(at.season, grid_zones, layer, at.now)
    return {
        "cells": cells(drawing, in_zones, layer),
        "rows": in_zones,
        "steps": list(enumerate(LEGENDS[layer])),
        "marks": marks(hazards, at.season.grid) if layer == "hazards" else [],
    }


def ice_layer(at: At, grid_zones: list[Zone], drawing: Drawing, layer: str) -> dict[str, Any]:
    """A layer of the ice estimate; the table has the whole of it."""
    context = ice_context(at)
    in_zones = ice_rows(grid_zones, context["estimate"], layer, context["rules"], current_units())
    return context | {
        "ice": True,
        "cells": cells(drawing, in_zones, layer),
        "ice_rows": in_zones,
        "steps": list(enumerate(ice_legend(layer, context["rules"], current_units()))),
        "numbers_are": unit_sentence(layer, current_units()),
    }


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
