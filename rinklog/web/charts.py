"""Numbers for a curve in SVG: points, ticks and axes in drawing units. Templates draw it; a table stands beside it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

WIDTH, HEIGHT = 320.0, 180.0
LEFT, RIGHT, TOP, BOTTOM = 44.0, 8.0, 10.0, 30.0


@dataclass(frozen=True)
class Tick:
    """One mark on an axis: where, and what it says."""

    at: float
    text: str


@dataclass(frozen=True)
class Curve:
    """A curve ready to draw."""

    points: str
    x_ticks: list[Tick]
    y_ticks: list[Tick]
    x_title: str
    y_title: str
    width: float = WIDTH
    height: float = HEIGHT
    left: float = LEFT
    right: float = WIDTH - RIGHT
    top: float = TOP
    bottom: float = HEIGHT - BOTTOM


def curve(xs: Sequence[float], ys: Sequence[float], *, x_title: str, y_title: str) -> Curve:
    """Scale a series to the drawing. Points that are not finite leave the line and are not drawn."""
    pairs = [(x, y) for x, y in zip(xs, ys, strict=True) if math.isfinite(x) and math.isfinite(y)]
    x_ticks, y_ticks = ticks([x for x, _ in pairs]), ticks([y for _, y in pairs] + [0.0])
    x_low, x_high, y_low, y_high = x_ticks[0], x_ticks[-1], y_ticks[0], y_ticks[-1]

    def across(x: float) -> float:
        return LEFT + (x - x_low) / (x_high - x_low) * (WIDTH - LEFT - RIGHT)

    def up(y: float) -> float:
        return HEIGHT - BOTTOM - (y - y_low) / (y_high - y_low) * (HEIGHT - TOP - BOTTOM)

    return Curve(
        points=" ".join(f"{across(x):.1f},{up(y):.1f}" for x, y in pairs),
        x_ticks=[Tick(round(across(x), 1), f"{x:g}") for x in x_ticks],
        y_ticks=[Tick(round(up(y), 1), f"{y:g}") for y in y_ticks],
        x_title=x_title,
        y_title=y_title,
    )


def ticks(values: Sequence[float], wanted: int = 5) -> list[float]:
    """Round numbers (1, 2 or 5 times a power of ten) that enclose the values, about `wanted` of them."""
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    if high <= low:
        low, high = low - 0.5, high + 0.5
    rough = (high - low) / (wanted - 1)
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * m for m in (1, 2, 5, 10) if power * m >= rough * 0.999)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [round(step * n, 10) for n in range(first, last + 1)]
