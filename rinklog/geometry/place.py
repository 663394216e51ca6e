"""Where on the Earth the points of a rink are: rink-local metres to longitude and latitude.

A tangent plane at the middle of the sheet, on the WGS 84 ellipsoid. Across a rink of 200 m it is off by less than
5 mm below 70° of latitude.
"""

import math
from dataclasses import dataclass

from rinklog.geometry.grid import Point, cut_outline

SEMI_MAJOR_M = 6_378_137.0  # WGS 84, NIMA TR 8350.2
FLATTENING = 1 / 298.257223563
ECCENTRICITY_2 = FLATTENING * (2 - FLATTENING)
HIGHEST_LATITUDE = 89.0
Ring = list[tuple[float, float]]


@dataclass(frozen=True)
class Place:
    """The middle of a rink [°] and where its length points [° clockwise from true north, near end to far end].

    Errors: ValueError beyond 89° of latitude, where the plane no longer fits, or beyond 180° of longitude.
    """

    latitude: float
    longitude: float
    bearing_deg: float
    length_m: float
    width_m: float

    def __post_init__(self) -> None:
        if not abs(self.latitude) <= HIGHEST_LATITUDE:
            raise ValueError(f"latitude is {self.latitude:g}; permitted: -89 to 89.")
        if not abs(self.longitude) <= 180:
            raise ValueError(f"longitude is {self.longitude:g}; permitted: -180 to 180.")

    def lonlat(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Longitude and latitude [°] of a point; longitude may run past ±180 (see rings()).

        Arguments: x_m along the length from the near end, y_m across from the left boards [m]. Returns:
        (longitude, latitude) [°]. Source: radii of curvature of the ellipsoid, Torge and Müller 2012, eq. 4.13, 4.15
        (from memory).
        """
        along, across = x_m - self.length_m / 2, y_m - self.width_m / 2
        turn = math.radians(self.bearing_deg)
        east = along * math.sin(turn) + across * math.cos(turn)
        north = along * math.cos(turn) - across * math.sin(turn)
        phi = math.radians(self.latitude)
        root = math.sqrt(1 - ECCENTRICITY_2 * math.sin(phi) ** 2)
        meridian_m = SEMI_MAJOR_M * (1 - ECCENTRICITY_2) / root**3
        normal_m = SEMI_MAJOR_M / root
        return (
            self.longitude + math.degrees(east / (normal_m * math.cos(phi))),
            self.latitude + math.degrees(north / meridian_m),
        )

    def rings(self, outline_m: list[Point]) -> list[Ring]:
        """A convex outline as closed rings, counter-clockwise, cut at the antimeridian (RFC 7946, 3.1.6 and 3.1.9).

        Arguments: outline_m, points (x, y) [m]. Returns: one ring, or two where the rink lies across ±180°.
        """
        ring = [self.lonlat(x, y) for x, y in outline_m]
        parts = []
        for shift in (-360, 0, 360):
            moved = [(longitude + shift, latitude) for longitude, latitude in ring]
            part = cut_outline(cut_outline(moved, 0, -180, 1), 0, 180, -1)
            if len(part) >= 3 and abs(_signed_area(part)) > 0:
                parts.append(_closed(part))
        return parts


def _closed(ring: Ring) -> Ring:
    """The ring, counter-clockwise, ending where it begins."""
    turned = ring if _signed_area(ring) > 0 else ring[::-1]
    return [*turned, turned[0]]


def _signed_area(ring: Ring) -> float:
    """Twice the area about the first point, positive when counter-clockwise (the shoelace formula)."""
    x0, y0 = ring[0]
    moved = [(x - x0, y - y0) for x, y in ring]
    return sum(a * d - b * c for (a, b), (c, d) in zip(moved, moved[1:] + moved[:1], strict=True))


def wrapped(longitude: float) -> float:
    """A longitude within -180 to 180 [°]."""
    return longitude if -180 <= longitude <= 180 else (longitude + 180) % 360 - 180
