"""Rink-local metres to longitude and latitude, against the closed form through Earth-centred coordinates.

Hofmann-Wellenhof, Lichtenegger and Wasle, GNSS (2008), eq. 8.4 (geodetic to Cartesian) and 8.14 (local level frame),
written from memory; and against pyproj's geodesic (PROJ), an independent program.
"""

import math

import pytest
import shapely
from pyproj import Geod

from rinklog.geometry.grid import Grid
from rinklog.geometry.place import Place

A, F = 6378137.0, 1 / 298.257223563  # WGS 84


def ecef(longitude: float, latitude: float) -> tuple[float, float, float]:
    lam, phi = math.radians(longitude), math.radians(latitude)
    e2 = F * (2 - F)
    n = A / math.sqrt(1 - e2 * math.sin(phi) ** 2)
    return (
        n * math.cos(phi) * math.cos(lam),
        n * math.cos(phi) * math.sin(lam),
        n * (1 - e2) * math.sin(phi),
    )


def east_north(place: Place, longitude: float, latitude: float) -> tuple[float, float]:
    here, there = ecef(place.longitude, place.latitude), ecef(longitude, latitude)
    dx, dy, dz = (b - a for a, b in zip(here, there, strict=True))
    lam, phi = math.radians(place.longitude), math.radians(place.latitude)
    east = -math.sin(lam) * dx + math.cos(lam) * dy
    north = -math.sin(phi) * math.cos(lam) * dx - math.sin(phi) * math.sin(lam) * dy + math.cos(phi) * dz
    return east, north


PLACES = [(59.9, 10.7), (45.4, -75.7), (-45.0, 169.9), (69.6, 18.9), (0.0, 0.0), (64.1, 179.99999)]


@pytest.mark.parametrize(("latitude", "longitude"), PLACES)
@pytest.mark.parametrize("bearing", [0, 37, 90, 213.5, 359])
def test_points_lie_where_the_ellipsoid_says(latitude: float, longitude: float, bearing: float) -> None:
    place = Place(latitude, longitude, bearing, 60, 30)
    geod = Geod(ellps="WGS84")
    for x, y in ((0, 0), (60, 0), (60, 30), (0, 30), (30, 15), (12, 7)):
        point = place.lonlat(x, y)
        # The length points along the bearing, the width 90° to its right.
        turn, along, across = math.radians(bearing), x - 30, y - 15
        wanted = (
            along * math.sin(turn) + across * math.cos(turn),
            along * math.cos(turn) - across * math.sin(turn),
        )
        assert east_north(place, *point) == pytest.approx(wanted, abs=0.002)
        distance = math.hypot(along, across)
        assert geod.inv(longitude, latitude, *point)[2] == pytest.approx(distance, abs=0.002)
        if distance:
            azimuth = (bearing + math.degrees(math.atan2(across, along))) % 360
            assert geod.inv(longitude, latitude, *point)[0] % 360 == pytest.approx(azimuth, abs=0.01)


@pytest.mark.parametrize(("latitude", "longitude"), PLACES[:5])
@pytest.mark.parametrize("bearing", [0, 120, 301])
def test_rings_are_closed_and_counter_clockwise_and_keep_the_area(
    latitude: float, longitude: float, bearing: float
) -> None:
    grid = Grid(40, 20, 4, 8, 4)
    place = Place(latitude, longitude, bearing, 40, 20)
    total = 0.0
    for zone in grid.zones:
        (ring,) = place.rings(grid.outline_m(zone.row, zone.column))
        assert ring[0] == ring[-1]
        assert shapely.LinearRing(ring).is_ccw  # RFC 7946, 3.1.6: the right-hand rule
        assert shapely.Polygon(ring).is_valid
        total += abs(Geod(ellps="WGS84").geometry_area_perimeter(shapely.Polygon(ring))[0])
    # 40 m × 20 m less four notches of (4 - π) × 4²/4 m², within the chords that arcs are drawn with.
    assert total == pytest.approx(800 - (4 - math.pi) * 16, rel=2e-3)


def test_a_rink_across_the_antimeridian_is_cut_in_two() -> None:
    # RFC 7946, 3.1.9: cut, so that no part crosses ±180.
    place = Place(64.0, 180.0, 90.0, 40, 20)
    rings = place.rings([(0, 0), (40, 0), (40, 20), (0, 20)])
    assert len(rings) == 2
    for ring in rings:
        assert shapely.LinearRing(ring).is_ccw
        assert all(-180 <= longitude <= 180 for longitude, _ in ring)
    west, east = sorted(rings, key=lambda ring: ring[0][0])
    assert max(x for x, _ in west) < -179
    assert min(x for x, _ in east) > 179


def test_the_poles_are_refused() -> None:
    for latitude, longitude in ((89.5, 0), (-90, 0), (60, 181), (float("nan"), 0)):
        with pytest.raises(ValueError, match="permitted"):
            Place(latitude, longitude, 0, 40, 20)
