"""How long repairs held, as steps: one picture a defect, one line a method, told apart by dashes and by name."""

from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from rinklog.reports.review.tables import Table
from rinklog.reports.review.words import said
from rinklog.web.charts import Tick, ticks

WIDTH, HEIGHT, LEFT, RIGHT, TOP, BOTTOM = 480.0, 220.0, 46.0, 132.0, 10.0, 34.0
MOST_LINES = 4
APART = 15.0  # between two names


@dataclass(frozen=True)
class Line:
    """One method: its steps, its name and where the name stands."""

    points: str
    name: str
    y: str
    dash: int


@dataclass(frozen=True)
class Held:
    """One defect's picture ready to draw."""

    defect: str
    lines: list[Line]
    x_ticks: list[Tick]
    y_ticks: list[Tick]
    view_box: str = f"0 0 {WIDTH:g} {HEIGHT:g}"
    left: str = f"{LEFT:g}"
    right: str = f"{WIDTH - RIGHT:g}"
    name_x: str = f"{WIDTH - RIGHT + 6:g}"
    foot: str = f"{HEIGHT - BOTTOM:g}"


def held_pictures(held: Table, curves: Table) -> list[Held]:
    """A picture for each defect of which some repair came back."""
    steps: dict[tuple[str, str], list[tuple[float, float]]] = defaultdict(list)
    for row in curves.dicts():
        steps[str(row["defect"]), str(row["method"])].append((_number(row["day"]), _number(row["holding"])))
    methods: dict[str, list[str]] = defaultdict(list)
    for row in held.dicts():
        methods[str(row["defect"])].append(str(row["method"]))
    failed = {defect for defect, _method in steps}
    return [
        _picture(defect, known[:MOST_LINES], steps) for defect, known in methods.items() if defect in failed
    ]


def _number(value: Any) -> float:
    return float(value or 0.0)


def _picture(
    defect: str, methods: list[str], steps: dict[tuple[str, str], list[tuple[float, float]]]
) -> Held:
    days = ticks([0.0, *(day for method in methods for day, _s in steps.get((defect, method), []))])
    across = (WIDTH - LEFT - RIGHT) / days[-1]

    def up(share: float) -> float:
        return HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM)

    lines: list[Line] = []
    taken: list[float] = []
    for dash, method in enumerate(methods):
        points, holding = [f"{LEFT:g},{up(1):.1f}"], 1.0
        for day, share in steps.get((defect, method), []):
            x = LEFT + day * across
            points += [f"{x:.1f},{up(holding):.1f}", f"{x:.1f},{up(share):.1f}"]
            holding = share
        points.append(f"{WIDTH - RIGHT:g},{up(holding):.1f}")
        y = up(holding)
        while any(abs(y - other) < APART for other in taken):
            y += 1.0 if y < HEIGHT / 2 else -1.0
        taken.append(y)
        lines.append(Line(" ".join(points), said("method", method), f"{y:.1f}", dash))
    return Held(
        said("hazard", defect),
        lines,
        [Tick(round(LEFT + day * across, 1), f"{day:g}") for day in days],
        [Tick(round(up(share), 1), f"{100 * share:.0f} %") for share in (0.0, 0.5, 1.0)],
    )
