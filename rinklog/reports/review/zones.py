"""What each zone got: water, work, trouble."""

from collections import Counter, defaultdict

from django.utils.translation import gettext_lazy as lazy

from rinklog.reports.review.facts import Facts
from rinklog.reports.review.floods import BAD_SEEN, Found
from rinklog.reports.review.tables import Column, Shape, Table
from rinklog.rink.models import Zone

REPAIRS = ("patch", "torch-repair", "tarp-melt")
ZONES_SHAPE = Shape(
    "zones",
    lazy("Water, work and trouble by zone"),
    (
        Column("zone", lazy("Zone")),
        Column("area_m2", lazy("Area"), "m2", 1),
        Column("water_m3", lazy("Water"), "m3", 3),
        Column("water_mm", lazy("Depth of water"), "mm", 1),
        Column("floods", lazy("Floods"), digits=0),
        Column("snow", lazy("Snow removals"), digits=0),
        Column("repairs", lazy("Repairs"), digits=0),
        Column("work", lazy("All work"), digits=0),
        Column("hazards", lazy("Hazards"), digits=0),
        Column("bad_looks", lazy("Seen bad"), digits=0),
        Column("trouble", lazy("Trouble"), digits=0),
    ),
)


def by_zone(facts: Facts, zones: list[Zone], found: Found) -> Table:
    """One row a zone of the season's grid; trouble is its hazards and the inspections that found it bad."""
    counts: dict[int, Counter[str]] = defaultdict(Counter)
    water: dict[int, float] = defaultdict(float)
    for one in facts.zones:
        counts[one.zone_id][one.kind] += one.entries
        water[one.zone_id] += one.water_m3
    hazards = Counter(zone for zone, _at, _kind in found)
    bad = Counter(zone for zone, _at, condition in facts.seen if condition in BAD_SEEN or condition == "thin")
    rows = []
    for zone in zones:
        kinds = counts[zone.id]
        depth = water[zone.id] / zone.area_m2 * 1000 if zone.area_m2 else None
        repairs = sum(kinds[kind] for kind in REPAIRS)
        trouble = hazards[zone.id] + bad[zone.id]
        rows.append(
            (
                zone.label, zone.area_m2, water[zone.id], depth, kinds["flood"], kinds["snow-removal"], repairs,
                kinds.total(), hazards[zone.id], bad[zone.id], trouble,
            )
        )  # fmt: skip
    return Table.of(ZONES_SHAPE, rows)
