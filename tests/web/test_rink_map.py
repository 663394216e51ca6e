"""The rink map: layers with numbers, a table beside, GeoJSON read by parsers that are not ours."""

import datetime as dt

import jsonschema
import pytest
import shapely.geometry
from django.test import Client
from django.utils import timezone

from rinklog.rink.models import Rink
from rinklog.work.models import Entry
from tests.support.cast import NOW, Cast
from tests.support.counting import CountQueries
from tests.support.hazards import put_up


@pytest.fixture
def eli(cast: Cast, client: Client) -> Client:
    client.force_login(cast.eli)
    return client


def page(client: Client, cast: Cast, layer: str = "") -> str:
    answer = client.get(f"/r/{cast.rink.slug}/map/{layer and '?layer=' + layer}")
    assert answer.status_code == 200
    return answer.content.decode()


def numbers(text: str) -> list[str]:
    """The numbers in the cells, in the order of the zones."""
    import re

    return re.findall(r'<text class="map-number"[^>]*>([^<]*)</text>', text)


def test_each_layer_has_its_number_in_every_zone(eli: Client, cast: Cast) -> None:
    now = timezone.now()
    cast.flood(
        now=now, started_at=now - dt.timedelta(hours=5), ended_at=now - dt.timedelta(hours=4, minutes=30)
    )
    cast.work(
        "snow-removal", now=now, started_at=now - dt.timedelta(days=4, hours=1), zone_ids=(cast.zones[2].id,)
    )
    put_up(cast, x_m=1.0, y_m=1.0)
    put_up(cast, x_m=2.0, y_m=1.0)
    flood, hazards, snow = (numbers(page(eli, cast, layer)) for layer in ("flood", "hazards", "snow"))
    assert flood[:3] == ["4 h", "4 h", "–"]
    assert hazards[:3] == ["2", "0", "0"]
    assert snow[:3] == ["–", "–", "4 d"]
    assert [len(layer) for layer in (flood, hazards, snow)] == [32, 32, 32]
    text = page(eli, cast, "hazards")
    assert "1 Bump" in text
    assert 'aria-label="Hazard 1: Bump, can trip a skater, found, no cone"' in text


def test_only_what_stands_counts(eli: Client, cast: Cast) -> None:
    now = timezone.now()
    entry = cast.flood(now=now, started_at=now - dt.timedelta(hours=1))
    Entry.objects.filter(id=entry.id).update(state="withdrawn")
    assert set(numbers(page(eli, cast, "flood"))) == {"–"}


def test_an_unknown_layer_is_not_there(eli: Client, cast: Cast) -> None:
    assert eli.get(f"/r/{cast.rink.slug}/map/?layer=treasure").status_code == 404


def test_the_map_costs_the_same_number_of_queries_whatever_the_season(eli: Client, cast: Cast) -> None:
    def cost() -> int:
        with CountQueries() as counted:
            page(eli, cast)
        return counted.count

    put_up(cast)
    cast.flood()
    cost()  # the first visit also renews the session
    few = cost()
    for _n in range(10):
        put_up(cast)
        cast.flood()
    assert cost() == few


# RFC 7946, sections 3.1 to 3.3, as far as these features go.
POSITION = {
    "type": "array",
    "prefixItems": [
        {"type": "number", "minimum": -180, "maximum": 180},
        {"type": "number", "minimum": -90, "maximum": 90},
    ],
    "minItems": 2,
    "maxItems": 2,
}
RING = {"type": "array", "items": POSITION, "minItems": 4}
GEOMETRY = {
    "oneOf": [
        {"properties": {"type": {"const": "Point"}, "coordinates": POSITION}},
        {"properties": {"type": {"const": "Polygon"}, "coordinates": {"type": "array", "items": RING}}},
    ],
    "required": ["type", "coordinates"],
}
SCHEMA = {
    "type": "object",
    "required": ["type", "features"],
    "not": {"anyOf": [{"required": ["coordinates"]}, {"required": ["geometry"]}, {"required": ["crs"]}]},
    "properties": {
        "type": {"const": "FeatureCollection"},
        "features": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["type", "properties", "geometry"],
                "properties": {"type": {"const": "Feature"}, "geometry": GEOMETRY},
            },
        },
    },
}


def test_a_rink_with_a_position_is_given_as_geojson(eli: Client, cast: Cast) -> None:
    Rink.objects.filter(id=cast.rink.id).update(latitude=60.0, longitude=11.0, bearing_deg=90.0)
    put_up(cast, x_m=30.0, y_m=10.0, cone_out=True)
    answer = eli.get(f"/r/{cast.rink.slug}/map.geojson")
    assert answer.headers["Content-Type"] == "application/geo+json"
    found = answer.json()
    jsonschema.validate(found, SCHEMA)
    shapes = [shapely.geometry.shape(feature["geometry"]) for feature in found["features"]]
    zones, points = (
        [s for s in shapes if s.geom_type == "Polygon"],
        [s for s in shapes if s.geom_type == "Point"],
    )
    assert (len(zones), len(points)) == (32, 1)
    assert all(zone.is_valid and zone.exterior.is_ccw for zone in zones)
    # The length points east: 10 m beyond the middle along it. One degree of longitude at 60° on WGS 84 is
    # 111 412.84 cos φ - 93.5 cos 3φ + 0.118 cos 5φ = 55 800 m (NGA, "length of a degree").
    assert points[0].x == pytest.approx(11 + 10 / 55_800, abs=1e-7)
    assert points[0].y == pytest.approx(60, abs=1e-7)
    marker = next(f for f in found["features"] if f["properties"]["what"] == "hazard")["properties"]
    assert (marker["kind"], marker["cone_out"], marker["state"]) == ("bump", True, "marked")
    # The marker lies in the zone it says it is in.
    inside = [
        f
        for f, s in zip(found["features"], shapes, strict=True)
        if s.geom_type == "Polygon" and s.covers(points[0])
    ]
    assert marker["zones"][0] in [f["properties"]["zone"] for f in inside]


def test_without_a_bearing_the_file_says_what_it_assumed(eli: Client, cast: Cast) -> None:
    Rink.objects.filter(id=cast.rink.id).update(latitude=60.0, longitude=11.0, bearing_deg=None)
    found = eli.get(f"/r/{cast.rink.slug}/map.geojson").json()
    jsonschema.validate(found, SCHEMA)
    assert "bearing is not set" in found["note"]


def test_a_rink_without_a_position_is_given_in_metres_and_says_so(eli: Client, cast: Cast) -> None:
    put_up(cast, x_m=30.0, y_m=10.0, now=NOW)
    answer = eli.get(f"/r/{cast.rink.slug}/map.geojson")
    assert answer.headers["Content-Type"] == "application/json"
    found = answer.json()
    assert "not GeoJSON" in found["note"]
    assert found["hazards"][0]["point_m"] == [30.0, 10.0]
    # 40 m × 20 m with corners of 4 m: 800 - (4 - π) 16 m², drawn with chords.
    area = sum(shapely.geometry.Polygon(zone["outline_m"]).area for zone in found["zones"])
    assert area == pytest.approx(786.27, rel=1e-3)
