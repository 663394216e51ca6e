"""Numbers for bars by week in SVG: the template draws them, the table stands beside them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rinklog.web import measures
from rinklog.web.charts import Tick, ticks
from rinklog.web.middleware import current_units

WIDTH, HEIGHT, LEFT, TOP, BOTTOM, RIGHT = 640.0, 200.0, 84.0, 14.0, 30.0, 8.0


@dataclass(frozen=True)
class Bar:
    """One bar in drawing units, as text so that no language puts a comma into it."""

    x: str
    y: str
    width: str
    height: str


@dataclass(frozen=True)
class Bars:
    """A chart of bars ready to draw."""

    title: Any
    unit: str
    bars: list[Bar]
    x_ticks: list[Tick]
    y_ticks: list[Tick]
    view_box: str = f"0 0 {WIDTH:g} {HEIGHT:g}"
    left: str = f"{LEFT:g}"
    right: str = f"{WIDTH - RIGHT:g}"
    foot: str = f"{HEIGHT - 8:g}"


def bars(title: Any, quantity: str, values: Sequence[float], labels: Sequence[str]) -> Bars:
    """Bars of values [stored unit] in the reader's unit; at most eight labels are written."""
    units = current_units()
    shown = [float(measures.plain(value, quantity, units)) for value in values]
    marks = ticks([0.0, *shown])
    high, room = marks[-1], HEIGHT - TOP - BOTTOM
    step = (WIDTH - LEFT - RIGHT) / max(len(shown), 1)
    every = max(1, -(-len(labels) // 8))

    def up(value: float) -> float:
        return HEIGHT - BOTTOM - value / high * room

    drawn = [
        Bar(
            f"{LEFT + place * step + 0.1 * step:.1f}",
            f"{up(value):.1f}",
            f"{0.8 * step:.1f}",
            f"{HEIGHT - BOTTOM - up(value):.1f}",
        )
        for place, value in enumerate(shown)
    ]
    return Bars(
        title=title,
        unit=measures.unit_text(quantity, units),
        bars=drawn,
        x_ticks=[
            Tick(round(LEFT + (place + 0.5) * step, 1), label)
            for place, label in enumerate(labels)
            if place % every == 0
        ],
        y_ticks=[Tick(round(up(mark), 1), f"{mark:g}") for mark in marks],
    )
