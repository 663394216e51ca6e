"""The season strip: every day with its cold, snow, floods, and whether the rink was open."""

import datetime as dt
from collections import defaultdict
from typing import Any

from django.utils.translation import gettext_lazy as lazy

from rinklog.reports.review.facts import Facts
from rinklog.reports.review.opening import Open
from rinklog.reports.review.tables import Column, Shape, Table
from rinklog.reports.review.weather import Winter

DAYS_SHAPE = Shape(
    "days",
    lazy("Every day of the season"),
    (
        Column("day", lazy("Day"), "day"),
        Column("state", lazy("Rink"), words="state"),
        Column("floods", lazy("Floods"), digits=0),
        Column("water_m3", lazy("Water"), "m3", 3),
        Column("entries", lazy("Entries"), digits=0),
        Column("snow_mm", lazy("Snow cleared"), "mm", 0),
        Column("low_c", lazy("Coldest"), "°C", 1),
        Column("mean_c", lazy("Mean air"), "°C", 1),
        Column("snowfall_mm", lazy("Snowfall, as water"), "mm", 1),
        Column("wind_ms", lazy("Strongest wind"), "m/s", 1),
    ),
)


def by_day(facts: Facts, opened: Open, winter: Winter) -> Table:
    """One row a day; air as somebody saw it stands in the column of the coldest where no weather is stored."""
    sums: dict[Any, list[Any]] = defaultdict(lambda: [0, 0.0, 0, None])
    for work in facts.days:
        row = sums[work.day]
        row[0] += work.entries if work.kind == "flood" else 0
        row[1] += work.water_m3
        row[2] += work.entries
        if work.seen_low_c is not None:
            row[3] = min(work.seen_low_c, row[3] if row[3] is not None else work.seen_low_c)
    snow: dict[Any, float] = defaultdict(float)
    for one in facts.snow:
        day = dt.datetime.fromtimestamp(one.started_s, facts.span.zone).date()
        snow[day] = max(snow[day], 1000 * (one.details.get("snow_depth_m") or 0.0))
    rows = []
    for day in facts.span.days:
        floods, water, entries, seen = sums[day]
        air = winter.days.get(day)
        rows.append(
            (
                day, opened.states.get(day, ""), floods, water, entries, snow.get(day),
                air.low_c if air else seen, air.mean_c if air else None, air.snow_mm if air else None,
                air.wind_ms if air else None,
            )
        )  # fmt: skip
    return Table.of(DAYS_SHAPE, rows)
