"""This season beside the earlier ones, by freezing degree day and by skateable day: a mild winter is not bad work."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Any
from uuid import UUID

from django.db.models import Count, Q, Sum
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.reports.review.facts import STANDING
from rinklog.reports.review.opening import Change, open_days
from rinklog.reports.review.span import Span
from rinklog.reports.review.tables import Column, Shape, Table
from rinklog.reports.review.told import told
from rinklog.rink.models import Season
from rinklog.work.models import Entry, EntryPerson, Hazard, Kind

EARLIER_SHAPE = Shape(
    "seasons",
    lazy("Season by season"),
    (
        Column("season", lazy("Season")),
        Column("entries", lazy("Entries"), digits=0),
        Column("floods", lazy("Floods"), digits=0),
        Column("water_m3", lazy("Water"), "m3", 3),
        Column("labour_h", lazy("Labour"), "h", 2),
        Column("hazards", lazy("Hazards"), digits=0),
        Column("skateable_days", lazy("Skateable days"), "days", 0),
        Column("freezing_degree_days", lazy("Freezing degree days"), "°C·d", 0),
        Column("water_m3_per_skateable_day", lazy("Water per skateable day"), "m3", 3),
        Column("labour_h_per_skateable_day", lazy("Hours per skateable day"), "h", 2),
        Column("water_m3_per_fdd", lazy("Water per freezing degree day"), "m3", 3),
        Column("labour_h_per_fdd", lazy("Hours per freezing degree day"), "h", 3),
        Column("skateable_days_per_100_fdd", lazy("Skateable days per 100 degree days"), "days", 1),
    ),
)
Cold = Mapping[UUID, float | None]  # freezing degree days by season; None where no weather is stored


@dataclass
class SeasonSum:
    """What one season came to."""

    entries: int = 0
    floods: int = 0
    water_m3: float = 0.0
    labour_min: float = 0.0
    hazards: int = 0


def sums(rink_id: UUID) -> dict[UUID, SeasonSum]:
    """Every season's sums in three queries."""
    found: dict[UUID, SeasonSum] = {}
    entries = Entry.objects.filter(rink_id=rink_id, state=STANDING).order_by().values_list("season_id")
    counted = entries.annotate(n=Count("id"), floods=Count("id", filter=Q(kind=Kind.FLOOD)))
    for season_id, n, floods, water in counted.annotate(water=Sum("water_m3")):
        found[season_id] = SeasonSum(n, floods, water or 0.0)
    labour = EntryPerson.objects.filter(entry__rink_id=rink_id, entry__state=STANDING).order_by()
    for season_id, minutes in labour.values_list("entry__season_id").annotate(sum=Sum("minutes")):
        found.setdefault(season_id, SeasonSum()).labour_min = minutes or 0.0
    hazards = Hazard.objects.filter(rink_id=rink_id).exclude(state=Hazard.State.WITHDRAWN).order_by()
    for season_id, n in hazards.values_list("season_id").annotate(n=Count("id")):
        found.setdefault(season_id, SeasonSum()).hazards = n
    return found


def by_season(
    span: Span, seasons: list[Season], changes: Mapping[UUID, list[Change]], cold: Cold, now: dt.datetime
) -> Table:
    """One row a season up to this one, the latest first."""
    known, rows = sums(span.season.rink_id), []
    for season in seasons:
        if season.starts_on <= span.season.starts_on:
            until = Span(season, span.zone, now).bounds[1]
            skated = open_days(changes.get(season.id, []), until, span.zone)
            days = skated.skateable if skated.changes else None
            rows.append(_row(season.name, known.get(season.id, SeasonSum()), days, cold.get(season.id)))
    notes = [
        _("Read seasons by their rates: a mild winter gives fewer cold days to make ice in."),
    ]
    if beside_the_cold(rows[0], rows[1:]):
        notes.append(told(lambda: beside_the_cold(rows[0], rows[1:])))
    if any(row[7] is None for row in rows):
        notes.append(_("Where no weather is stored for a season, rates per degree day are left empty."))
    return Table.of(EARLIER_SHAPE, rows, notes)


def beside_the_cold(this: Sequence[Any], before: Sequence[Sequence[Any]]) -> str:
    """How many skateable days this winter's cold would usually have given, and how many there were.

    Arguments: rows of the table. Usual is the middle rate of the earlier seasons whose cold and days are known; nothing
    is said without one. A proportion to the cold: common practice, no source.
    """
    rates = [row[12] for row in before if row[12] is not None]
    days, cold = this[6], this[7]
    usual = median(rates) * (cold or 0.0) / 100 if rates else 0.0
    if days is None or usual <= 0:
        return ""
    share = 100 * days / usual
    said = {"cold": f"{cold:.0f}", "usual": f"{usual:.0f}", "days": days, "share": f"{share:.0f}"}
    return (
        _(
            "With the cold of this winter (%(cold)s °C·d), the earlier seasons' rate gives %(usual)s skateable days; "
            "there were %(days)d: %(share)s %% of it."
        )
        % said
    )


def _row(name: str, one: SeasonSum, days: int | None, cold: float | None) -> tuple[Any, ...]:
    hours = one.labour_min / 60
    return (
        name, one.entries, one.floods, one.water_m3, hours, one.hazards, days, cold,
        _rate(one.water_m3, days), _rate(hours, days), _rate(one.water_m3, cold), _rate(hours, cold),
        _rate(None if days is None else 100.0 * days, cold),
    )  # fmt: skip


def _rate(value: float | None, per: float | None) -> float | None:
    return value / per if value is not None and per else None
