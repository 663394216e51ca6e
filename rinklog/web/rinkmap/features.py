"""Zones and hazard markers for other maps: GeoJSON where the rink's position is known, metres where it is not."""

from typing import Any

from django.utils.translation import gettext as _

from rinklog.geometry.grid import Grid as Plan
from rinklog.geometry.place import Place, wrapped
from rinklog.rink.models import Grid, Rink, Zone
from rinklog.work.hazard_places import place_m
from rinklog.work.models import Hazard

DIGITS = 8  # about a millimetre


def place_of(rink: Rink, grid: Grid) -> Place | None:
    """Where the middle of the sheet is; None when it is not known, or too near a pole."""
    if rink.latitude is None or rink.longitude is None:
        return None
    try:
        return Place(rink.latitude, rink.longitude, rink.bearing_deg or 0.0, grid.length_m, grid.width_m)
    except ValueError:
        return None


def collection(
    rink: Rink, grid: Grid, zones: list[Zone], hazards: list[Hazard], place: Place
) -> dict[str, Any]:
    """A FeatureCollection (RFC 7946). Foreign members: `rink`, and `note` when the bearing was never set."""
    plan = Plan(grid.length_m, grid.width_m, grid.corner_m, grid.rows, grid.columns)
    features = [
        _feature(zone_properties(zone), _area(place.rings(plan.outline_m(zone.row, zone.column))))
        for zone in zones
    ]
    for hazard in hazards:
        if point := place_m(hazard):
            longitude, latitude = place.lonlat(*point)
            features.append(
                _feature(
                    hazard_properties(hazard),
                    {
                        "type": "Point",
                        "coordinates": [round(wrapped(longitude), DIGITS), round(latitude, DIGITS)],
                    },
                )
            )
    found: dict[str, Any] = {"type": "FeatureCollection", "rink": rink.name, "features": features}
    if rink.bearing_deg is None:
        found["note"] = _("The rink's bearing is not set; drawn as if its length points to true north.")
    return found


def local_metres(rink: Rink, grid: Grid, zones: list[Zone], hazards: list[Hazard]) -> dict[str, Any]:
    """The same in rink-local metres, which is not GeoJSON and does not claim to be."""
    plan = Plan(grid.length_m, grid.width_m, grid.corner_m, grid.rows, grid.columns)
    return {
        "rink": rink.name,
        "note": _(
            "The rink has no position, so this is not GeoJSON. Coordinates are rink-local metres [x, y]: "
            "x along the length from the near end, y across from the left boards."
        ),
        "zones": [
            zone_properties(zone)
            | {"outline_m": [[round(x, 3), round(y, 3)] for x, y in plan.outline_m(zone.row, zone.column)]}
            for zone in zones
        ],
        "hazards": [
            hazard_properties(hazard) | {"point_m": [round(point[0], 3), round(point[1], 3)]}
            for hazard in hazards
            if (point := place_m(hazard))
        ],
    }


def zone_properties(zone: Zone) -> dict[str, Any]:
    """What is said of a zone."""
    return {"what": "zone", "zone": zone.label, "area_m2": round(zone.area_m2, 3), "depth_m": zone.depth_m}


def hazard_properties(hazard: Hazard) -> dict[str, Any]:
    """What is said of a hazard."""
    return {
        "what": "hazard",
        "id": str(hazard.id),
        "number": hazard.number,
        "kind": hazard.kind,
        "severity": hazard.severity,
        "state": hazard.state,
        "cone_out": hazard.cone_out,
        "found_at": hazard.found_at.isoformat(),
        "zones": [zone.label for zone in hazard.zones.all()],
    }


def _feature(properties: dict[str, Any], geometry: dict[str, Any]) -> dict[str, Any]:
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def _area(rings: list[list[tuple[float, float]]]) -> dict[str, Any]:
    rounded = [[[round(x, DIGITS), round(y, DIGITS)] for x, y in ring] for ring in rings]
    if len(rounded) == 1:
        return {"type": "Polygon", "coordinates": rounded}
    return {"type": "MultiPolygon", "coordinates": [[ring] for ring in rounded]}
