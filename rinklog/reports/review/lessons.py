"""Lessons written at the moment: the entries whose writers flagged them."""

import datetime as dt

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.reports.review.facts import Facts
from rinklog.reports.review.tables import CREW, Column, Shape, Table
from rinklog.reports.review.told import told

LESSONS_SHAPE = Shape(
    "lessons",
    lazy("Lessons written at the moment"),
    (
        Column("on", lazy("Day"), "day"),
        Column("kind", lazy("Kind"), words="kind"),
        Column("who", lazy("Who")),
        Column("lesson", lazy("Lesson")),
    ),
    readers=CREW,
)


def lessons(facts: Facts) -> Table:
    """Every entry whose writer flagged it as a lesson."""
    rows = (
        facts.entries.filter(lesson=True)
        .order_by("started_at", "id")
        .values_list("started_at", "kind", "by__name", "note")
    )
    shown = [
        (_day(at, facts), kind, name, note or told(lambda: _("no words"))) for at, kind, name, note in rows
    ]
    return Table.of(LESSONS_SHAPE, shown)


def _day(at: dt.datetime, facts: Facts) -> dt.date:
    return at.astimezone(facts.span.zone).date()
