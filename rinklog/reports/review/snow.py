"""Snow taken off: how deep, how heavy, how many hours, with which tools at which depth."""

from collections import defaultdict
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext

from rinklog.reports.review.facts import Facts, Removal
from rinklog.reports.review.tables import FIGURE, Column, Shape, Table
from rinklog.reports.review.told import told

# Densities [kg/m³], middle of each type: Paterson (new 50–70, damp new 100–200, settled 200–300, wind-packed 350–400,
# very wet 700–800; from memory), AMS glossary (fresh 70–150). Heaps and crust: common practice, no source.
DENSITY_KGM3 = {
    "dry-new": 100.0,
    "wind-packed": 375.0,
    "wet": 300.0,
    "crusted": 300.0,
    "slush": 750.0,
    "frozen": 600.0,
    "frost": 100.0,
    "": 150.0,  # nobody said
}
CLASSES_M = (
    0.01,
    0.03,
    0.06,
    0.12,
)  # 3 cm: from there machines (AQLM); the others common practice, no source
TOOLS_SHAPE = Shape(
    "snow-tools",
    lazy("Snow removal by depth and tools"),
    (
        Column("depth", lazy("Depth before")),
        Column("tools", lazy("Tools"), words="tool"),
        Column("times", lazy("Times"), digits=0),
        Column("mean_depth_mm", lazy("Mean depth"), "mm", 0),
        Column("labour_h", lazy("Labour"), "h", 2),
        Column("h_per_1000m2", lazy("Hours per 1000 m²"), "h", 2),
        Column("clear_h", lazy("From start to end, each"), "h", 2),
    ),
)
SUMMARY_SHAPE = Shape("snow", lazy("Snow cleared"), FIGURE)


def tonnes(removal: Removal) -> float | None:
    """Mass of the snow that was there [t]; None where nobody said how deep it lay."""
    depth, kind = removal.details.get("snow_depth_m"), removal.details.get("snow") or ""
    return None if depth is None else depth * removal.area_m2 * DENSITY_KGM3[kind] / 1000


def _depths_m(removals: list[Removal]) -> list[float]:
    known = (row.details.get("snow_depth_m") for row in removals)
    return [float(depth) for depth in known if depth is not None]


def summary(facts: Facts) -> Table:
    """Depth, mass and hours of the whole season."""
    snow = facts.snow
    depths = _depths_m(snow)
    masses = [mass for row in snow if (mass := tonnes(row)) is not None]
    rows: list[tuple[Any, float | None, str, int]] = [
        (_("Snow removals"), len(snow), "", 0),
        (_("Depth cleared, added up"), 100 * sum(depths) if depths else None, "cm", 1),
        (_("Deepest"), 100 * max(depths) if depths else None, "cm", 1),
        (_("Mass, estimated"), sum(masses) if masses else None, "t", 1),
        (_("Hours of all people"), sum(row.minutes or 0.0 for row in snow) / 60, "h", 2),
    ]
    notes = [_("Mass: depth × area × a usual density of that kind of snow; an estimate.")] if masses else []
    if missing := len(snow) - len(depths):
        notes.append(
            told(
                lambda: (
                    ngettext(
                        "%(n)d removal has no depth and is missing from depth and mass.",
                        "%(n)d removals have no depth and are missing from depth and mass.",
                        missing,
                    )
                    % {"n": missing}
                )
            )
        )
    return Table.of_figures(SUMMARY_SHAPE, rows, notes)


def depth_class(depth_m: float | None) -> str:
    """The class of a depth, in centimetres."""
    if depth_m is None:
        return "?"
    low = 0.0
    for high in CLASSES_M:
        if depth_m < high:
            return f"{low * 100:g}–{high * 100:g} cm"
        low = high
    return f"≥ {low * 100:g} cm"


def by_tools(facts: Facts) -> Table:
    """One row a class of depth and set of tools."""
    groups: dict[tuple[float, str, str], list[Removal]] = defaultdict(list)
    for row in facts.snow:
        depth = row.details.get("snow_depth_m")
        place = sum(depth >= limit for limit in CLASSES_M) if depth is not None else len(CLASSES_M) + 1
        groups[place, depth_class(depth), "+".join(row.details.get("tools") or [])].append(row)
    return Table.of(TOOLS_SHAPE, [_sums(key, group) for key, group in sorted(groups.items())])


def _sums(key: tuple[float, str, str], group: list[Removal]) -> tuple[Any, ...]:
    depths = _depths_m(group)
    hours, area = sum(row.minutes or 0.0 for row in group) / 60, sum(row.area_m2 for row in group)
    took = [(row.ended_s - row.started_s) / 3600 for row in group if row.ended_s is not None]
    return (
        key[1],
        key[2],
        len(group),
        1000 * sum(depths) / len(depths) if depths else None,
        hours,
        hours / area * 1000 if area else None,
        sum(took) / len(took) if took else None,
    )
