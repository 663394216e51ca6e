"""Water: by kind, by week, by zone, per square metre, per skateable day; and the meter against the entries."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext

from rinklog.reports.review.facts import Facts, WaterEntry
from rinklog.reports.review.tables import Column, Shape, Table
from rinklog.reports.review.told import told
from rinklog.reports.review.words import TOTAL
from rinklog.reports.season import monday_of
from rinklog.work.kinds import KINDS
from rinklog.work.kinds import flood as flood_kind

WEEK = dt.timedelta(days=7)
KINDS_SHAPE = Shape(
    "water-by-kind",
    lazy("Water by kind of work"),
    (
        Column("kind", lazy("Kind"), words="kind"),
        Column("entries", lazy("Entries"), digits=0),
        Column("water_m3", lazy("Water"), "m3", 3),
        Column("water_mm", lazy("Over the whole rink"), "mm", 1),
    ),
)
WEEKS_SHAPE = Shape(
    "weeks",
    lazy("Water and hours by week"),
    (
        Column("week_from", lazy("Week from"), "day"),
        Column("entries", lazy("Entries"), digits=0),
        Column("floods", lazy("Floods"), digits=0),
        Column("water_m3", lazy("Water"), "m3", 3),
        Column("labour_h", lazy("Labour"), "h", 2),
    ),
)
METER_SHAPE = Shape(
    "meter",
    lazy("The meter against the entries"),
    (Column("what", lazy("What"), said=True), Column("water_m3", lazy("Water"), "m3", 3)),
)


def total_m3(facts: Facts) -> float:
    """All water of the season [m³]."""
    return sum(day.water_m3 for day in facts.days)


def by_kind(facts: Facts) -> Table:
    """One row a kind that poured water, and their sum."""
    sums: dict[str, list[float]] = {}
    for day in facts.days:
        row = sums.setdefault(day.kind, [0, 0.0])
        row[0] += day.entries
        row[1] += day.water_m3
    area = facts.span.area_m2
    rows = [
        (kind, sums[kind][0], sums[kind][1], sums[kind][1] / area * 1000)
        for kind in KINDS
        if kind in sums and (KINDS[kind].takes_water or sums[kind][1])
    ]
    whole = sum(row[2] for row in rows)
    rows.append((TOTAL, sum(int(row[1]) for row in rows), whole, whole / area * 1000))
    return Table.of(KINDS_SHAPE, rows)


def by_week(facts: Facts) -> Table:
    """Every week of the season, those without work too."""
    days = facts.days
    if not days and not facts.labour:
        return Table.of(WEEKS_SHAPE, [])
    mondays = [monday_of(day.day) for day in days] + [one.monday for one in facts.labour]
    monday, last = min(mondays), max(mondays)
    rows: dict[dt.date, list[Any]] = {}
    while monday <= last:
        rows[monday] = [monday, 0, 0, 0.0, 0.0]
        monday += WEEK
    for day in days:
        row = rows[monday_of(day.day)]
        row[1] += day.entries
        row[2] += day.entries if day.kind == "flood" else 0
        row[3] += day.water_m3
    for one in facts.labour:
        rows[one.monday][4] += one.minutes / 60
    return Table.of(WEEKS_SHAPE, rows.values())


@dataclass
class Meter:
    """What the readings say [m³]. `more` and `less` are what the meter moved between two metered floods, against
    what the other entries in between say."""

    metered: float = 0.0  # by the metered floods themselves
    between: float = 0.0  # what the meter moved between them
    logged_between: float = 0.0  # what other entries say was poured meanwhile
    readings: int = 0
    backwards: int = 0
    changed: int = 0


def read_meter(entries: list[WaterEntry]) -> Meter:
    """Follow the readings of the metered floods in order of time.

    A reading below the one before it is a replaced, rolled-over or misread meter: that gap is counted nowhere.
    """
    meter, last, meanwhile = Meter(), None, 0.0
    for entry in entries:
        details = entry.details
        before, after = details.get("meter_before_m3"), details.get("meter_after_m3")
        if details.get("by") != flood_kind.BY_METER or before is None or after is None:
            meanwhile += entry.water_m3 or 0.0
            continue
        meter.metered += entry.water_m3 or 0.0
        meter.readings += 1
        meter.changed += bool(details.get("meter_change"))
        if last is not None and before < last - flood_kind.ROUNDING_M3:
            meter.backwards += 1
        elif last is not None:
            meter.between += max(0.0, before - last)
            meter.logged_between += meanwhile
        last, meanwhile = after, 0.0
    return meter


def meter(facts: Facts) -> Table:
    """The meter's own sum against the entries', and where the difference lies."""
    read = read_meter(facts.water)
    if not read.readings:
        return Table.of(METER_SHAPE, [], [_("No flood was measured by the meter.")])
    by_meter, by_entries = read.metered + read.between, read.metered + read.logged_between
    rows = [
        (_("The meter moved, where its readings follow each other"), by_meter),
        (_("of that during metered floods"), read.metered),
        (_("of that between them"), read.between),
        (_("Entries between them, measured otherwise"), read.logged_between),
        (_("Difference: meter less entries"), by_meter - by_entries),
        (_("Entries outside the readings"), total_m3(facts) - by_entries),
    ]
    return Table.of(METER_SHAPE, rows, _explained(read))


def _explained(read: Meter) -> Iterator[str]:
    difference = read.between - read.logged_between
    if difference > flood_kind.ROUNDING_M3:
        yield _("The meter moved more than was written down: water for other uses, or floods nobody logged.")
    elif difference < -flood_kind.ROUNDING_M3:
        yield _("More was written down than the meter moved: guessed amounts or minutes that were too high.")
    else:
        yield _("Meter and entries agree.")
    if read.backwards:
        yield told(lambda: _backwards(read.backwards))
    if read.changed:
        yield told(lambda: _changed(read.changed))


def _backwards(times: int) -> str:
    return ngettext(
        "%(n)d reading is lower than the one before it: a replaced or misread meter; that gap counts nowhere.",
        "%(n)d readings are lower than the ones before them: a replaced or misread meter; those gaps count nowhere.",
        times,
    ) % {"n": times}


def _changed(times: int) -> str:
    return ngettext(
        "The meter rolled over or was replaced during %(n)d flood.",
        "The meter rolled over or was replaced during %(n)d floods.",
        times,
    ) % {"n": times}
