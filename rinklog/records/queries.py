"""Reading records. Nothing here writes; a record that was corrected no longer counts."""

import datetime as dt
from dataclasses import dataclass
from typing import TypeVar
from uuid import UUID

from django.db.models import BooleanField, ExpressionWrapper, Q, QuerySet

from rinklog.records.models import (
    AccidentReport,
    Check,
    ChecklistItem,
    ConditionGrade,
    Headcount,
    Opening,
    PublicPage,
    Record,
)
from rinklog.records.practice import CHECKLISTS, GRADES
from rinklog.rink.models import Rink

R = TypeVar("R", bound=Record)


def record(model: type[R], rink: Rink, id: UUID) -> R | None:
    """One record of a rink, corrected or not."""
    return (
        model._default_manager.select_related("rink", "season", "by", "replaces", "replaced_by__by")
        .filter(rink=rink, id=id)
        .first()
    )


def standing(model: type[R], rink: Rink) -> QuerySet[R]:
    """The records that count, the latest first."""
    return (
        model._default_manager.filter(rink=rink, replaced_by=None)
        .select_related("by")
        .order_by("-at", "-recorded_at")
    )


def current_opening(rink: Rink, now: dt.datetime) -> Opening | None:
    """What a person last set the rink to, or None; `lapsed` is true when its "until" has passed.

    Nothing opens or closes by itself: a lapsed closing stays a closing until a person says otherwise.
    """
    lapsed = ExpressionWrapper(Q(until__lte=now), output_field=BooleanField())
    return standing(Opening, rink).filter(at__lte=now).annotate(lapsed=lapsed).first()


def openings(rink: Rink) -> QuerySet[Opening]:
    """Every change of opening with the corrected ones, the latest first."""
    return (
        Opening.objects.filter(rink=rink).select_related("by", "replaced_by").order_by("-at", "-recorded_at")
    )


@dataclass(frozen=True)
class Grade:
    """One word for the condition of the ice, and what this rink means by it."""

    word: str
    criterion: str


def grades(rink: Rink) -> list[Grade]:
    """This rink's grades, the best first; the published ones until the keeper has chosen."""
    rows = list(ConditionGrade.objects.filter(rink=rink))
    if not rows:
        return [Grade(str(word), str(criterion)) for word, criterion in GRADES]
    return [Grade(row.word, row.criterion) for row in rows if not row.retired]


def checklist(rink: Rink, list: str) -> list[str]:
    """The lines of one of this rink's checklists; the published ones until the keeper has chosen."""
    rows = ChecklistItem.objects.filter(rink=rink, list=list).values_list("text", "retired")
    if not rows:
        return [str(text) for text in CHECKLISTS[list]]
    return [text for text, retired in rows if not retired]


def is_accident(rink: Rink, id: UUID) -> bool:
    """Whether an id is an accident report's, so that what hangs on it is read by those who read reports."""
    return AccidentReport.objects.filter(rink=rink, id=id).exists()


def checks(rink: Rink, lists: tuple[str, ...]) -> QuerySet[Check]:
    """Walks or inspections that count, the latest first, with their lines in one more query."""
    return standing(Check, rink).filter(list__in=lists).prefetch_related("lines")


def first_of(record: Record) -> Record:
    """The record that a chain of corrections began with: photos hang on its id."""
    while record.replaces is not None:
        record = record.replaces
    return record


@dataclass(frozen=True)
class HourCount:
    """Skaters in the hour that begins at `at`."""

    at: dt.datetime
    skaters: int


def hours(rink: Rink, start: dt.datetime, end: dt.datetime) -> list[HourCount]:
    """Skaters by the hour from `start` to `end` (not included), the earliest first, in one query."""
    counted = (
        Headcount.objects.filter(rink=rink, replaced_by=None, at__gte=start, at__lt=end)
        .order_by("at", "recorded_at")
        .values_list("at", "skaters", "whole")
    )
    sums: dict[dt.datetime, int] = {}
    for at, skaters, whole in counted:
        sums[at] = skaters if whole else sums.get(at, 0) + skaters
    return [HourCount(at, skaters) for at, skaters in sums.items()]


def public_page(slug: str) -> PublicPage | None:
    """The public page at an address with its rink, in one query; None where the keeper shows none."""
    shown = PublicPage.objects.exclude(shown=PublicPage.Shown.OFF)
    return shown.select_related("rink").filter(rink__slug=slug).first()


def publicity(rink: Rink) -> str:
    """How the rink's public page is shown: "off", "link" or "listed"."""
    return (
        PublicPage.objects.filter(rink=rink).values_list("shown", flat=True).first() or PublicPage.Shown.OFF
    )
