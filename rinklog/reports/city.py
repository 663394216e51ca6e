"""The file for the city and the insurer: closures, inspections, thickness, attendance, accidents, each with its hour's
weather, and the water return with the meter before and after."""

import datetime as dt
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.owed import queries as owed
from rinklog.records import queries as records
from rinklog.records.models import AccidentReport, Check, CheckLine, ChecklistItem, Opening
from rinklog.reports.review.facts import Facts
from rinklog.reports.review.span import Span
from rinklog.reports.review.tables import Column, Shape, Table
from rinklog.reports.review.weather import Winter, winter_of
from rinklog.reports.thickness import hole_of
from rinklog.weather.queries import known_hours
from rinklog.work.kinds.flood import BY_METER
from rinklog.work.models import Kind
from rinklog.work.queries import standing

_AT = Column("at", lazy("When"))
_BY = Column("by", lazy("By"))
_AIR = (Column("air_c", lazy("Air then"), "°C", 1), Column("wind_ms", lazy("Wind then"), "m/s", 1))
CLOSURES = Shape(
    "closures",
    lazy("Opened and closed"),
    (_AT, Column("state", lazy("State"), words="state"), Column("reason", lazy("Reason")), _BY, *_AIR),
)
INSPECTIONS = Shape(
    "inspections",
    lazy("Walks and inspections"),
    (
        _AT,
        Column("list", lazy("List")),
        Column("grade", lazy("Grade")),
        Column("in_order", lazy("In order"), digits=0),
        Column("wants_repair", lazy("Wants repair"), digits=0),
        Column("told", lazy("Told whom")),
        _BY,
        *_AIR,
    ),
)
THICKNESS = Shape(
    "thickness",
    lazy("Thickness, drilled"),
    (
        _AT,
        Column("zone", lazy("Zone")),
        Column("clear_mm", lazy("Clear ice"), "mm", 1),
        Column("white_mm", lazy("White ice"), "mm", 1),
        Column("counted_mm", lazy("Counted"), "mm", 1),
        _BY,
        *_AIR,
    ),
)
ATTENDANCE = Shape(
    "attendance",
    lazy("Skaters by the hour"),
    (Column("hour", lazy("Hour from")), Column("skaters", lazy("Skaters"), digits=0), *_AIR),
)
ACCIDENTS = Shape(
    "accidents",
    lazy("Accidents and near misses"),
    (
        _AT,
        Column("what", lazy("What")),
        Column("where", lazy("Where")),
        Column("happened", lazy("What happened")),
        Column("injury", lazy("Injury")),
        Column("help", lazy("Help given")),
        Column("ice", lazy("Condition of the ice")),
        _BY,
        *_AIR,
    ),
)
WATER = Shape(
    "water-return",
    lazy("Water return: the meter before and after"),
    (
        _AT,
        Column("before_m3", lazy("Meter before"), "m3", 3),
        Column("after_m3", lazy("Meter after"), "m3", 3),
        Column("water_m3", lazy("Water"), "m3", 3),
    ),
)
LOANS = Shape(
    "loans",
    lazy("On loan: faults and losses"),
    (
        Column("what", lazy("What")),
        Column("lender", lazy("Lent by")),
        Column("lent_on", lazy("Since"), "day"),
        Column("lent", lazy("Lent"), digits=0),
        Column("in_order", lazy("Here, in order"), digits=0),
        Column("broken", lazy("Here, broken"), digits=0),
        Column("lost", lazy("Lost"), digits=0),
        Column("given_back", lazy("Given back"), digits=0),
        Column("happened", lazy("What happened")),
    ),
)
DATES = Shape(
    "dates",
    lazy("Grants, insurance, permits"),
    (
        Column("due_on", lazy("Due on"), "day"),
        Column("kind", lazy("Kind")),
        Column("what", lazy("What")),
        Column("done_on", lazy("Done on"), "day"),
        Column("done_by", lazy("By")),
    ),
)
LISTS = {choice.value: choice.label for choice in ChecklistItem.List}


class CityFile:
    """One season's file, read in a fixed number of queries."""

    def __init__(self, span: Span) -> None:
        self.span = span
        self.start, self.end = span.bounds
        known = known_hours(span.season.rink, self.start, self.end)
        self.winter: Winter = winter_of((one.hour for one in known), span.zone)

    def tables(self) -> list[Table]:
        """Every table, in the order of the file."""
        return [
            self.closures(),
            self.inspections(),
            self.thickness(),
            self.attendance(),
            self.accidents(),
            self.water_return(),
            self.loans(),
            self.dates(),
        ]

    def closures(self) -> Table:
        """Every change of opening that counts."""
        rows = self._records(Opening)
        return Table.of(
            CLOSURES,
            [(self._at(one.at), one.state, one.reason, one.by.name, *self._air(one.at)) for one in rows],
        )

    def inspections(self) -> Table:
        """Daily walks and formal inspections."""
        rows = self._records(Check).prefetch_related("lines")
        return Table.of(INSPECTIONS, [self._inspection(one) for one in rows])

    def _inspection(self, one: Any) -> tuple[Any, ...]:
        answers = [line.answer for line in one.lines.all()]
        good, repair = (answers.count(answer) for answer in (CheckLine.Answer.GOOD, CheckLine.Answer.REPAIR))
        said = str(LISTS.get(one.list, one.list))
        return (
            self._at(one.at), said, one.grade, good, repair, one.told_whom, one.by.name, *self._air(one.at),
        )  # fmt: skip

    def thickness(self) -> Table:
        """Every drill hole."""
        entries = standing(self.span.season.rink).filter(season=self.span.season, kind=Kind.DRILL_HOLE)
        holes = [hole_of(entry) for entry in entries.order_by("started_at", "id")]
        return Table.of(
            THICKNESS,
            [
                (
                    self._at(one.at), one.zone, 1000 * one.clear_m, 1000 * one.white_m, 1000 * one.counted_m, one.by,
                    *self._air(one.at),
                )
                for one in holes
            ],
        )  # fmt: skip

    def attendance(self) -> Table:
        """Skaters of every hour in which somebody counted."""
        counted = records.hours(self.span.season.rink, self.start, self.end)
        return Table.of(ATTENDANCE, [(self._at(one.at), one.skaters, *self._air(one.at)) for one in counted])

    def accidents(self) -> Table:
        """Accidents and near misses, as they were reported."""
        rows = self._records(AccidentReport)
        found = []
        for one in rows:
            what = _("near miss") if one.near_miss else _("accident")
            air, wind = self._air(one.at)
            said = (one.where, one.what_happened, one.injury, one.help_given, one.ice_condition, one.by.name)
            found.append((self._at(one.at), what, *said, one.seen_air_c if air is None else air, wind))
        return Table.of(ACCIDENTS, found)

    def water_return(self) -> Table:
        """Every flood measured by the meter, and all of the season's water."""
        facts = Facts(self.span)
        metered = [one for one in facts.floods if one.details.get("by") == BY_METER]
        rows = [
            (
                dt.datetime.fromtimestamp(one.started_s, self.span.zone).isoformat(timespec="minutes"),
                one.details.get("meter_before_m3"),
                one.details.get("meter_after_m3"),
                one.water_m3,
            )
            for one in metered
        ]
        whole = sum(day.water_m3 for day in facts.days)
        said = {"metered": sum(one.water_m3 or 0.0 for one in metered), "whole": whole}
        note = _("By the meter %(metered).3f m³, of %(whole).3f m³ written down in the season.") % said
        return Table.of(WATER, rows, [note])

    def loans(self) -> Table:
        """What was on loan at some time of the season, counted as it is now."""
        known = owed.loans(self.span.season.rink, since=self.span.first, until=self.span.last)
        return Table.of(LOANS, [_loan(one) for one in known])

    def dates(self) -> Table:
        """Days by which a paper had to be in, due or done in the season; and what is to come while it runs."""
        rows = owed.of_days(self.span.season.rink, self.span.first, self.span.last)
        if self.span.season.closed_at is None:
            rows += [one for one in owed.to_come(self.span.season.rink) if one.due_on > self.span.last]
        return Table.of(
            DATES,
            [
                (one.due_on, one.get_kind_display(), one.what, one.done_on, one.done_by and one.done_by.name)
                for one in rows
            ],
        )

    def _records(self, model: Any) -> Any:
        return records.standing(model, self.span.season.rink).filter(season=self.span.season).order_by("at")

    def _at(self, moment: dt.datetime) -> str:
        return moment.astimezone(self.span.zone).isoformat(timespec="minutes")

    def _air(self, moment: dt.datetime) -> tuple[float | None, float | None]:
        hour = self.winter.at(moment.timestamp())
        return (hour.air_c, hour.wind_ms) if hour else (None, None)


def _loan(one: owed.LoanNow) -> tuple[Any, ...]:
    told = [
        f"{event.on.isoformat()}: {event.count} {event.get_what_display()} {event.note}"
        for event in one.events
    ]
    loan, counted = one.loan, one.counts
    return (
        loan.what, loan.lender, loan.lent_on, loan.count, counted.sound, counted.broken, counted.lost,
        counted.returned, "; ".join(line.strip() for line in told),
    )  # fmt: skip
