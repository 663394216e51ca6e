"""Water and boards: volume on a slope, load on the boards, hose, filling, liner, circles and corners."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from rinklog.calculators.declare import COMMON_PRACTICE, Calculator, Group, InputError, Key, Result, Results
from rinklog.geometry import basin as basins
from rinklog.geometry import boards, corner, hose
from rinklog.geometry import liner as liners
from rinklog.units import gettext_noop

LENGTH = Key("length_m", "m", gettext_noop("length inside the boards"), 0.1, 1000)
WIDTH = Key("width_m", "m", gettext_noop("width inside the boards"), 0.1, 1000)
FLOW = Key("flow_ls", "l/s", gettext_noop("flow of the hose"), 1e-4, 1000)
BOARDS = gettext_noop(
    "Water load grows with the square of depth, and ice and people press besides: with more than about half a metre "
    "at the boards have them checked by someone licensed to."
)
MAINS = gettext_noop("Keep electrical connections out of the wet, outdoor-rated and ground-fault protected.")


def basin(
    length_m: float = 1.0,
    width_m: float = 1.0,
    fall_long: float | None = None,
    fall_cross: float = 0.0,
    depth_low_m: float | None = None,
    cover_m: float | None = None,
    levels: list[list[float]] | None = None,
    spacing_long_m: float = 1.0,
    spacing_cross_m: float = 1.0,
    water_level_m: float | None = None,
) -> Results:
    """Water on a plane or a surveyed floor, by depth, water level or wanted cover."""
    if levels is not None:
        heights = np.array(levels, dtype=float)
        level = float(heights.max()) + cover_m if cover_m is not None else water_level_m
        if level is None:
            raise InputError("water_level_m", "missing", "a height, or cover_m")
        return basins.surveyed(heights, spacing_long_m, spacing_cross_m, level)._asdict()
    along = fall_long or 0.0
    if depth_low_m is None:
        depth_low_m = basins.depth_for_cover_m(length_m, width_m, along, fall_cross, cover_m or 0.0)
    if depth_low_m > 20:
        raise InputError("fall_long", f"{along:g} over {length_m:g} m", "at most 20 m of water")
    return basins.sloping(length_m, width_m, along, fall_cross, depth_low_m)._asdict()


def board_load(depth_m: float) -> Results:
    """Water pressing on a metre of boards."""
    return {
        "pressure_pa": boards.pressure_pa(depth_m),
        "force_nm": boards.force_nm(depth_m),
        "moment_nmm": boards.moment_nmm(depth_m),
    }


def hose_loss(length_m: float, diameter_mm: float, flow_ls: float, roughness_c: float) -> Results:
    """Head lost in a hose."""
    head_m = hose.head_loss_m(length_m, diameter_mm / 1000, flow_ls / 1000, roughness_c)
    return {"head_loss_m": head_m, "loss_pa": hose.loss_pa(head_m)}


def fill_time(volume_m3: float, flow_ls: float) -> Results:
    """Hours to fill a volume."""
    return {"hours": volume_m3 / (flow_ls / 1000) / 3600}


def liner(length_m: float, width_m: float, board_m: float, depth_m: float, overlap_m: float) -> Results:
    """The sheet to cut."""
    return liners.liner(length_m, width_m, board_m, depth_m, overlap_m)._asdict()


def circle(perimeter_m: float | None = None, radius_m: float | None = None) -> Results:
    """Radius and perimeter of a circle."""
    radius = radius_m if radius_m is not None else corner.radius_m(perimeter_m or 0.0)
    return {"radius_m": radius, "perimeter_m": corner.perimeter_m(radius)}


def corner_stakes(radius_m: float, spacing_m: float) -> Results:
    """Stakes along a rounded corner."""
    return corner.stakes(radius_m, spacing_m)._asdict()


def _deep(inputs: Mapping[str, Any], results: Results) -> str | None:
    depths = inputs["depth_m"] if isinstance(inputs["depth_m"], list) else [inputs["depth_m"]]
    if max(depths) <= boards.CHECK_DEPTH_M:
        return None
    return gettext_noop("This is more than half a metre: have the boards checked before filling.")


BASIN = Calculator(
    "basin",
    gettext_noop("Water on the floor"),
    (
        LENGTH,
        WIDTH,
        Key("fall_long", "m per m", gettext_noop("fall along the length"), 0, 1),
        Key("fall_cross", "m per m", gettext_noop("fall across"), 0, 1, 0.0, goes_with=("fall_long",)),
        Key("depth_low_m", "m", gettext_noop("water at the lowest corner"), 0, 10),
        Key("cover_m", "m", gettext_noop("least water wanted at the highest corner"), 0, 10),
        Key("levels", "m", gettext_noop("heights of the floor, rows across"), -1000, 9000, kind="grid"),
        Key("spacing_long_m", "m", gettext_noop("between rows"), 0.01, 1000),
        Key("spacing_cross_m", "m", gettext_noop("within a row"), 0.01, 1000),
        Key("water_level_m", "m", gettext_noop("height of the water"), -1000, 9000),
    ),
    (
        Result("volume_m3", "m³", gettext_noop("water; a grid by the trapezoid rule")),
        Result("volume_simpson_m3", "m³", gettext_noop("water by Simpson's rule, a grid with odd counts")),
        Result("greatest_depth_m", "m", gettext_noop("greatest depth")),
        Result("wet_area_m2", "m²", gettext_noop("floor under water")),
        Result("mean_depth_m", "m", gettext_noop("mean depth where wet")),
    ),
    ("geometry of a plane clipped at the water's edge", "trapezoid and Simpson 1-4-1 rules"),
    gettext_noop("square rink without rounded corners; dry ground holds no water"),
    "V = ∬ max(d0 - a x - b y, 0) dx dy",
    basin,
    caution=BOARDS,
    ways=(
        ("length_m", "width_m", "fall_long", "depth_low_m"),
        ("length_m", "width_m", "fall_long", "cover_m"),
        ("levels", "spacing_long_m", "spacing_cross_m", "water_level_m"),
        ("levels", "spacing_long_m", "spacing_cross_m", "cover_m"),
    ),
)
BOARD_LOAD = Calculator(
    "board-load",
    gettext_noop("Water against the boards"),
    (Key("depth_m", "m", gettext_noop("water at the boards"), 0, 5),),
    (
        Result("pressure_pa", "Pa", gettext_noop("pressure at the foot")),
        Result("force_nm", "N/m", gettext_noop("push on a metre of boards, at a third of the depth")),
        Result("moment_nmm", "N·m/m", gettext_noop("moment about the foot of a metre")),
    ),
    ("hydrostatics, water 1000 kg/m³, g 9.80665 m/s²",),
    gettext_noop("still water; ice pressing on the boards is not in this"),
    "p = ρ g d; F = ρ g d²/2; M = ρ g d³/6",
    board_load,
    caution=BOARDS,
    warn=_deep,
)
HOSE = Calculator(
    "hose",
    gettext_noop("Loss in a hose"),
    (
        Key("length_m", "m", gettext_noop("length of hose"), 0, 10_000),
        Key("diameter_mm", "mm", gettext_noop("inner diameter"), 3, 1000),
        Key("flow_ls", "l/s", gettext_noop("flow"), 0, 1000),
        Key("roughness_c", "", gettext_noop("Hazen-Williams C, 140-150 smooth hose"), 60, 160, 140.0),
    ),
    (
        Result("head_loss_m", "m", gettext_noop("head lost")),
        Result("loss_pa", "Pa", gettext_noop("the same as pressure")),
    ),
    ("Hazen-Williams",),
    gettext_noop("turbulent flow in a full hose; water just above freezing loses somewhat more"),
    "h = 10.67 L Q^1.852 / (C^1.852 D^4.8704)",
    hose_loss,
    caution=MAINS,
)
FILL_TIME = Calculator(
    "fill-time",
    gettext_noop("Hours to fill"),
    (Key("volume_m3", "m³", gettext_noop("water wanted"), 0, 1_000_000), FLOW),
    (Result("hours", "h", gettext_noop("hours at that flow")),),
    ("volume over flow",),
    gettext_noop("steady flow, no leaks; a bucket test gives the flow"),
    "t = V / Q",
    fill_time,
    caution=MAINS,
)
LINER = Calculator(
    "liner",
    gettext_noop("Size of the liner"),
    (
        LENGTH,
        WIDTH,
        Key("board_m", "m", gettext_noop("height of the boards"), 0, 5),
        Key("depth_m", "m", gettext_noop("deepest floor below the foot of the boards"), 0, 5),
        Key("overlap_m", "m", gettext_noop("over the top of the boards"), 0, 5, 0.3),
    ),
    (
        Result("cut_length_m", "m", gettext_noop("length to cut")),
        Result("cut_width_m", "m", gettext_noop("width to cut")),
        Result("area_m2", "m²", gettext_noop("area of the sheet")),
    ),
    (COMMON_PRACTICE,),
    gettext_noop("one sheet, boards all round; lay it just before the water and fasten it after"),
    "cut = size + 2 (depth + board + overlap)",
    liner,
    caution=gettext_noop(
        "Measure the deep end: a liner that is too short is the costliest mistake of the autumn."
    ),
)
CIRCLE = Calculator(
    "circle",
    gettext_noop("A circle"),
    (
        Key("perimeter_m", "m", gettext_noop("way round"), 0, 6283),
        Key("radius_m", "m", gettext_noop("radius"), 0, 1000),
    ),
    (
        Result("radius_m", "m", gettext_noop("radius")),
        Result("perimeter_m", "m", gettext_noop("way round")),
    ),
    ("geometry",),
    gettext_noop("a full circle"),
    "P = 2 π r",
    circle,
    ways=(("perimeter_m",), ("radius_m",)),
)
CORNER = Calculator(
    "corner",
    gettext_noop("Stakes for a rounded corner"),
    (
        Key("radius_m", "m", gettext_noop("radius of the corner"), 0.1, 100),
        Key("spacing_m", "m", gettext_noop("most between stakes, along the arc"), 0.01, 100),
    ),
    (
        Result("x_m", "m", gettext_noop("along one side, from where the straight sides would meet")),
        Result("y_m", "m", gettext_noop("along the other side")),
        Result("chord_m", "m", gettext_noop("straight from the stake before")),
    ),
    ("geometry",),
    gettext_noop("a quarter circle that touches both sides"),
    "chord = 2 r sin(angle / 2)",
    corner_stakes,
)
GROUP = Group(
    "water-and-boards",
    gettext_noop("Water and boards"),
    (BASIN, BOARD_LOAD, HOSE, FILL_TIME, LINER, CIRCLE, CORNER),
)
