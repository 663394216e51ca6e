"""The season strip: every day a column; cold, snow, floods, and open or closed, each in a lane of its own."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from rinklog.dates import written
from rinklog.reports.review.tables import Cell, Table

WIDTH, LEFT, RIGHT = 720.0, 62.0, 6.0
LANES = {
    "cold": (8.0, 70.0),
    "snow": (86.0, 40.0),
    "floods": (134.0, 40.0),
    "open": (182.0, 34.0),
}  # top, height
HEIGHT = 240.0
OPEN_FRAC = {"open": 1.0, "partly": 0.55, "closed": 0.16}


@dataclass(frozen=True)
class Mark:
    """One bar of the strip, as text so that no language puts a comma into it."""

    lane: str
    x: str
    y: str
    width: str
    height: str


@dataclass(frozen=True)
class Lane:
    """One lane: where it stands, what it shows, and the value at its full height."""

    name: str
    title: str
    top: str
    foot: str
    middle: str
    most: str


@dataclass(frozen=True)
class Strip:
    """The strip ready to draw."""

    marks: list[Mark]
    lanes: list[Lane]
    months: list[tuple[str, str]]
    zero_y: str | None
    view_box: str = f"0 0 {WIDTH:g} {HEIGHT:g}"
    left: str = f"{LEFT:g}"
    right: str = f"{WIDTH - RIGHT:g}"
    foot: str = f"{HEIGHT - 8:g}"


def strip(table: Table) -> Strip | None:
    """Draw the table of days; None when there is nothing on any of them."""
    days = table.dicts()
    if not any(day["entries"] or day["state"] or day["low_c"] is not None for day in days):
        return None
    step = (WIDTH - LEFT - RIGHT) / len(days)
    airs = [float(day["low_c"]) for day in days if day["low_c"] is not None]
    high, low = max([0.0, *airs]), min([-1.0, *airs])
    snow, floods = _most(day["snow_mm"] for day in days), _most(day["floods"] for day in days)
    top, height = LANES["cold"]
    zero = top + high / (high - low) * height
    marks = []
    for place, day in enumerate(days):
        x = LEFT + place * step
        if day["low_c"] is not None:
            end = top + (high - float(day["low_c"])) / (high - low) * height
            marks.append(_mark("cold" if end >= zero else "warm", x, step, min(zero, end), abs(end - zero)))
        for lane, value, most in (("snow", day["snow_mm"], snow), ("floods", day["floods"], floods)):
            marks += _bar(lane, x, step, float(value or 0) / most)
        state = str(day["state"])
        marks += _bar(f"open open-{state}", x, step, OPEN_FRAC.get(state, 0.0))
    return Strip(marks, _lanes(low, snow, floods), _months(days, step), f"{zero:.1f}" if airs else None)


def _most(values: Iterable[Cell]) -> float:
    return max((float(value) for value in values if value), default=0.0) or 1.0


def _bar(lane: str, x: float, step: float, share: float) -> list[Mark]:
    top, height = LANES[lane.split()[0]]
    tall = share * height
    return [_mark(lane, x, step, top + height - tall, tall)] if share > 0 else []


def _mark(lane: str, x: float, step: float, y: float, height: float) -> Mark:
    gap = 0.12 * step if "open" not in lane else 0.0
    return Mark(lane, f"{x + gap:.2f}", f"{y:.1f}", f"{step - 2 * gap:.2f}", f"{max(height, 0.6):.1f}")


def _lanes(low: float, snow: float, floods: float) -> list[Lane]:
    said = {
        "cold": (_("Cold"), f"{low:.0f} °C"),
        "snow": (_("Snow"), f"{snow:.0f} mm"),
        "floods": (_("Floods"), f"{floods:.0f}"),
        "open": (_("Open"), ""),
    }
    return [
        Lane(name, said[name][0], f"{top:g}", f"{top + height:g}", f"{top + height / 2:g}", said[name][1])
        for name, (top, height) in LANES.items()
    ]


def _months(days: list[dict[str, Cell]], step: float) -> list[tuple[str, str]]:
    firsts = [(place, dt.date.fromisoformat(str(day["day"]))) for place, day in enumerate(days)]
    return [
        (f"{LEFT + place * step:.1f}", written(day, "M"))
        for place, day in firsts
        if day.day == 1 or place == 0
    ]
