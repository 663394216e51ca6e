"""Where signs can stand: every zone, the board posts along every row and column, the hoses that were tested.

A post is named by its side and the letter of its row or the number of its column: "left B", "far 3".
"""

from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from rinklog.geometry.grid import zone_name
from rinklog.rink.models import BucketTest, Grid, Rink, Sign, Zone

SIDES = ("left", "right", "near", "far")
MOST_CONES = 99


def places(rink: Rink, grid: Grid, kind: str, cones: int = 0) -> list[str]:
    """The places that signs of a kind can name here, in the order they are printed."""
    if kind == Sign.Kind.ZONE:
        return [zone_name(row, column) for row in range(grid.rows) for column in range(grid.columns)]
    if kind == Sign.Kind.POST:
        return [post.name for post in posts(grid)]
    if kind == Sign.Kind.HOSE:
        names = BucketTest.objects.filter(rink=rink).exclude(hose="").order_by("hose")
        return list(names.values_list("hose", flat=True).distinct())
    return [str(number) for number in range(1, min(cones, MOST_CONES) + 1)]


@dataclass(frozen=True)
class Post:
    """A place at the boards and the zone beside it."""

    name: str
    row: int
    column: int


def posts(grid: Grid) -> list[Post]:
    """A post at both ends of every row and of every column."""
    rows, columns = range(grid.rows), range(grid.columns)
    last_row, last_column = grid.rows - 1, grid.columns - 1
    return [
        *(Post(f"left {letter(row)}", row, 0) for row in rows),
        *(Post(f"right {letter(row)}", row, last_column) for row in rows),
        *(Post(f"near {column + 1}", 0, column) for column in columns),
        *(Post(f"far {column + 1}", last_row, column) for column in columns),
    ]


def letter(row: int) -> str:
    """The letter of a row, as in the names of its zones."""
    return zone_name(row, 0)[:-1]


def zone_of(sign: Sign, grid: Grid) -> Zone | None:
    """The zone that a sign stands for on a grid; None when it was made for a grid divided otherwise."""
    return zones_of([sign], grid).get(sign.id)


def zones_of(signs: Iterable[Sign], grid: Grid) -> dict[UUID, Zone]:
    """The zones of signs by the signs' ids; without those made for a grid divided otherwise. One query."""
    zones, beside = list(grid.zones.all()), {post.name: (post.row, post.column) for post in posts(grid)}
    by_label, by_cell = (
        {zone.label: zone for zone in zones},
        {(zone.row, zone.column): zone for zone in zones},
    )
    found = {}
    for sign in signs:
        if (sign.rows, sign.columns) != (grid.rows, grid.columns):
            continue
        of_zone = sign.kind == Sign.Kind.ZONE
        zone = by_label.get(sign.place) if of_zone else by_cell.get(beside.get(sign.place, (-1, -1)))
        if zone is not None:
            found[sign.id] = zone
    return found
