"""Numbers for the weather picture: one SVG of four panels on one axis of time. The template draws it.

Everything is text in drawing units, so that no language puts a comma into it. Observed hours are drawn whole, foretold
ones dashed; a gap in what is known is a gap in the line.
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from rinklog.dates import written
from rinklog.weather.known import HOUR, KnownHour
from rinklog.web import measures
from rinklog.web.charts import ticks
from rinklog.web.middleware import current_units
from rinklog.web.weather.window import Shown
from rinklog.web.weather.words import SNOW_BELOW_C

WIDTH, HEIGHT, LEFT, RIGHT = 720.0, 744.0, 62.0, 8.0
AIR, WIND, FALL, SUN = (56.0, 256.0), (322.0, 432.0), (482.0, 564.0), (618.0, 700.0)
"""Top and bottom of each panel."""
ARROWS_Y = 306.0
ARROWS_EVERY = 6
LEAST_MM = 1.0
"""The rain axis reaches at least this far, so that a drizzle does not look like a flood [mm an hour]."""
SUN_TOP = 400.0
Point = tuple[float, float]


@dataclass(frozen=True)
class Mark:
    """A place on an axis and what stands there."""

    at: str
    text: str


@dataclass(frozen=True)
class Box:
    """A rectangle; `share` is how full it is (0 to 1), as text."""

    x: str
    y: str
    width: str
    height: str
    share: str = "1"


@dataclass(frozen=True)
class Arrow:
    """Where the wind blows to, drawn pointing up and turned."""

    x: str
    turn: str


@dataclass(frozen=True)
class Panel:
    """One panel: its edges, its title with the unit, and its marks."""

    top: str
    bottom: str
    title_y: str
    title: str
    marks: list[Mark]


@dataclass(frozen=True)
class Picture:
    """The whole picture, ready to draw."""

    panels: list[Panel]
    freezing: Mark | None
    air_seen: str
    air_told: str
    dew: str
    wind: str
    gust: str
    arrows: list[Arrow]
    rain: list[Box]
    snow: list[Box]
    lying: str
    sun: str
    cloud: list[Box]
    nights: list[Box]
    days: list[Mark]
    day_lines: list[str]
    now: str
    says: str
    view_box: str = f"0 0 {WIDTH:g} {HEIGHT:g}"
    left: str = f"{LEFT:g}"
    right: str = f"{WIDTH - RIGHT:g}"
    width: str = f"{WIDTH - LEFT - RIGHT:g}"
    arrows_y: str = f"{ARROWS_Y:g}"
    top: str = f"{AIR[0]:g}"
    bottom: str = f"{SUN[1]:g}"
    day_foot: str = f"{HEIGHT - 12:g}"


@dataclass(frozen=True)
class Axes:
    """Time across, one value up."""

    shown: Shown

    def across(self, at: dt.datetime) -> float:
        """Where a moment stands."""
        share = (at - self.shown.start) / (self.shown.end - self.shown.start)
        return LEFT + min(max(share, 0.0), 1.0) * (WIDTH - LEFT - RIGHT)

    def width_of(self, span: dt.timedelta) -> float:
        """How wide a length of time is."""
        return span / (self.shown.end - self.shown.start) * (WIDTH - LEFT - RIGHT)

    def box(self, start: dt.datetime, end: dt.datetime, edges: tuple[float, float], share: float = 1) -> Box:
        """A rectangle between two moments."""
        x, past = self.across(start), self.across(end)
        return Box(
            f"{x:.1f}", f"{edges[0]:.1f}", f"{past - x:.1f}", f"{edges[1] - edges[0]:.1f}", f"{share:.2f}"
        )


class Scale:
    """A panel's values in the reader's unit, and where they stand."""

    def __init__(
        self, quantity: str, edges: tuple[float, float], values: Sequence[float], wanted: int
    ) -> None:
        self.quantity, self.edges, self.units = quantity, edges, current_units()
        self.ticks = ticks([self.read(value) for value in values], wanted)

    def read(self, value: float) -> float:
        """A stored value in the reader's unit."""
        return float(measures.plain(value, self.quantity, self.units))

    def up(self, value: float) -> float:
        """Where a stored value stands."""
        return self.place(self.read(value))

    def place(self, number: float) -> float:
        """Where a number in the reader's unit stands."""
        top, bottom = self.edges
        low, high = self.ticks[0], self.ticks[-1]
        return bottom - (number - low) / (high - low) * (bottom - top)

    def panel(self, title: str, above: float = 14.0) -> Panel:
        """The panel with its marks."""
        top, bottom = self.edges
        marks = [Mark(f"{self.place(tick):.1f}", f"{tick:g}") for tick in self.ticks]
        unit = measures.unit_text(self.quantity, self.units)
        return Panel(
            f"{top:g}", f"{bottom:g}", f"{top - above:g}", f"{title}, {unit}" if unit else title, marks
        )


def picture(
    hours: Sequence[KnownHour],
    shown: Shown,
    nights: Sequence[tuple[dt.datetime, dt.datetime]],
    sun_wm2: Sequence[float | None],
    now: dt.datetime,
) -> Picture:
    """Draw some hours [SI]; `sun_wm2` is one value an hour, given or worked out."""
    axes = Axes(shown)
    air = Scale("temperature", AIR, values(hours, "air_c", "dew_point_c") or [-5.0, 5.0], 5)
    wind = Scale("speed", WIND, [0.0, *values(hours, "wind_ms", "gust_ms")], 4)
    fall = Scale("rain", FALL, [0.0, LEAST_MM, *values(hours, "precip_mm")], 3)
    top_sun = max([SUN_TOP, *(value for value in sun_wm2 if value is not None)])
    sun = Scale("number", SUN, [0.0, top_sun], 3)
    at = [one.hour.at for one in hours]

    def line(name: str, scale: Scale, keep: Callable[[KnownHour, KnownHour], bool] = always) -> str:
        found = [getattr(one.hour, name) for one in hours]
        points = [
            None if v is None else (axes.across(t), scale.up(v)) for t, v in zip(at, found, strict=True)
        ]
        return path(hours, points, keep)

    freezing = air.up(0.0)
    return Picture(
        panels=[
            air.panel(_("Air and dew point")),
            wind.panel(_("Wind and gusts"), 34.0),
            fall.panel(_("Rain and snow an hour")),
            sun.panel(_("Sun, W/m²; cloud above it"), 18.0),
        ],
        freezing=Mark(f"{freezing:.1f}", measures.show(0.0, "temperature", current_units()))
        if AIR[0] <= freezing <= AIR[1]
        else None,
        air_seen=line("air_c", air, both_seen),
        air_told=line("air_c", air, not_both_seen),
        dew=line("dew_point_c", air),
        wind=line("wind_ms", wind),
        gust=line("gust_ms", wind),
        arrows=arrows(hours, axes),
        rain=bars(hours, axes, fall, snows=False),
        snow=bars(hours, axes, fall, snows=True),
        lying=lying(hours, axes),
        sun=area(at, sun_wm2, axes, sun),
        cloud=clouds(hours, axes),
        nights=[axes.box(start, end, (AIR[0], SUN[1])) for start, end in nights],
        days=[
            Mark(f"{axes.across(start + (end - start) / 2):.1f}", day_name(day))
            for day, start, end in shown.days
        ],
        day_lines=[f"{axes.across(start):.1f}" for _day, start, _end in shown.days[1:]],
        now=f"{axes.across(now):.1f}" if shown.start <= now <= shown.end else "",
        says=summary(hours),
    )


def always(_one: KnownHour, _after: KnownHour) -> bool:
    """Draw every stretch."""
    return True


def both_seen(one: KnownHour, after: KnownHour) -> bool:
    """Whether both ends of a stretch were observed."""
    return one.observed and after.observed


def not_both_seen(one: KnownHour, after: KnownHour) -> bool:
    """Whether an end of a stretch is only foretold."""
    return not both_seen(one, after)


def values(hours: Sequence[KnownHour], *names: str) -> list[float]:
    """Every known value of some names."""
    return [value for one in hours for name in names if (value := getattr(one.hour, name)) is not None]


def path(
    hours: Sequence[KnownHour],
    points: Sequence[Point | None],
    keep: Callable[[KnownHour, KnownHour], bool],
) -> str:
    """A line as an SVG path: from hour to hour, broken where an hour is missing."""
    parts, pen_at = [], -1
    for n in range(len(points) - 1):
        here, there = points[n], points[n + 1]
        if here is None or there is None or hours[n + 1].hour.at - hours[n].hour.at > HOUR:
            continue
        if not keep(hours[n], hours[n + 1]):
            continue
        if pen_at != n:
            parts.append(f"M{here[0]:.1f} {here[1]:.1f}")
        parts.append(f"L{there[0]:.1f} {there[1]:.1f}")
        pen_at = n + 1
    return "".join(parts)


def area(at: Sequence[dt.datetime], found: Sequence[float | None], axes: Axes, scale: Scale) -> str:
    """Steps down to the panel's floor: a mean over each hour."""
    floor, width = SUN[1], axes.width_of(HOUR)
    parts = []
    for moment, value in zip(at, found, strict=True):
        if value:
            x, y = axes.across(moment), scale.up(value)
            parts.append(f"M{x:.1f} {floor:g}V{y:.1f}h{width:.1f}V{floor:g}Z")
    return "".join(parts)


def bars(hours: Sequence[KnownHour], axes: Axes, scale: Scale, *, snows: bool) -> list[Box]:
    """What fell in each hour, as rain or as snow."""
    found = []
    for one in hours:
        fell, air = one.hour.precip_mm, one.hour.air_c
        if fell and (air is not None and air < SNOW_BELOW_C) == snows:
            found.append(axes.box(one.hour.at, one.hour.at + HOUR, (scale.up(fell), FALL[1])))
    return found


def lying(hours: Sequence[KnownHour], axes: Axes) -> str:
    """Snow on the ground as a line that fills the rain panel at its deepest; the numbers stand in the table."""
    deepest = max(values(hours, "snow_m"), default=0.0)
    if not deepest:
        return ""
    room = FALL[1] - FALL[0]
    points = [
        None
        if (depth := one.hour.snow_m) is None
        else (axes.across(one.hour.at), FALL[1] - depth / deepest * room)
        for one in hours
    ]
    return path(hours, points, always)


def clouds(hours: Sequence[KnownHour], axes: Axes) -> list[Box]:
    """A strip above the sun: the darker, the more of the sky is covered."""
    edges = (SUN[0] - 10, SUN[0] - 2)
    found = [(one.hour.at, one.hour.cloud_frac) for one in hours]
    return [
        axes.box(at, at + HOUR, edges, cloud) for at, cloud in found if cloud is not None and cloud > 0.05
    ]


def arrows(hours: Sequence[KnownHour], axes: Axes) -> list[Arrow]:
    """Every sixth hour of the rink's clock, where the wind blows to."""
    found = []
    for one in hours:
        local = one.hour.at.astimezone(axes.shown.zone)
        if one.hour.wind_from_deg is not None and one.hour.wind_ms and local.hour % ARROWS_EVERY == 3:
            turn = (one.hour.wind_from_deg + 180) % 360
            found.append(Arrow(f"{axes.across(one.hour.at):.1f}", f"{turn:.0f}"))
    return found


def day_name(day: dt.date) -> str:
    """A day as a narrow screen has room for it."""
    return written(day, "D j")


def summary(hours: Sequence[KnownHour]) -> str:
    """The picture in a sentence, for who does not see it."""
    air = values(hours, "air_c")
    units = current_units()
    if not air:
        return _("No air temperature is known.")
    told = {
        "low": measures.show(min(air), "temperature", units),
        "high": measures.show(max(air), "temperature", units),
    }
    for name, of in (("wind", "wind_ms"), ("gust", "gust_ms")):
        if known := values(hours, of):
            told[name] = measures.show(max(known), "speed", units)
    if "wind" not in told:
        return _("Air from %(low)s to %(high)s. Every hour is in the table.") % told
    if "gust" not in told:
        return _("Air from %(low)s to %(high)s; strongest wind %(wind)s. Every hour is in the table.") % told
    return (
        _(
            "Air from %(low)s to %(high)s; strongest wind %(wind)s, gusts %(gust)s. Every hour is in the table."
        )
        % told
    )
