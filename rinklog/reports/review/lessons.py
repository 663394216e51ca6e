"""Lessons written at the moment, and the questions that published practice asks at a season's end."""

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
# Tukes, Finland: what a season's end asks (published practice, section 3 of the sources).
QUESTIONS = (
    lazy("Where was the ice oddly thick or thin?"),
    lazy("Which spots were dangerous, and did they come back?"),
    lazy("Which near misses were there?"),
    lazy("Did the notices work?"),
    lazy("Who carried the load, and who could take some of it?"),
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
    return Table.of(LESSONS_SHAPE, shown, QUESTIONS)


def _day(at: dt.datetime, facts: Facts) -> dt.date:
    return at.astimezone(facts.span.zone).date()
