"""Reading recurring work: its rules, its dates, and what in the log makes a date done. Nothing here writes."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from rinklog.plan.deeds import DEEDS
from rinklog.plan.models import DueDate, RecurringTask
from rinklog.plan.rules.recurrence import Recurrence
from rinklog.records.models import Check
from rinklog.rink.models import Rink
from rinklog.work.models import Entry

State = DueDate.State
LOOK_BACK = dt.timedelta(days=8)
"""How long a late entry, or one withdrawn, still changes how a date ended."""


@dataclass(frozen=True)
class Done:
    """Something in the log that may count: an entry, or a checklist gone through."""

    what: str
    at: dt.datetime
    entry_id: UUID | None = None
    check_id: UUID | None = None


def recurrence_of(task: RecurringTask) -> Recurrence:
    """A stored task as the pure rules read it."""
    left_out = frozenset(dt.date.fromisoformat(day) for day in task.except_on)
    return Recurrence(task.rule, task.begins_on, task.at, ZoneInfo(task.rink.time_zone), left_out)


def tasks(rink: Rink) -> QuerySet[RecurringTask]:
    """The recurring work of a rink that goes on."""
    return RecurringTask.objects.select_related("rink", "by").filter(rink=rink, ended_at=None)


def task(rink: Rink, id: UUID) -> RecurringTask | None:
    """One recurring task of a rink, ended or not."""
    return RecurringTask.objects.select_related("rink", "by").filter(rink=rink, id=id).first()


def done_between(rink: Rink, start: dt.datetime, end: dt.datetime) -> list[Done]:
    """What the log holds of a span, the earliest first; two queries."""
    entries = Entry.objects.filter(
        rink=rink, state=Entry.State.STANDING, started_at__gte=start, started_at__lt=end
    )
    checks = Check.objects.filter(rink=rink, replaced_by=None, at__gte=start, at__lt=end)
    found = [
        Done(kind, at, entry_id=id) for kind, at, id in entries.values_list("kind", "started_at", "id")
    ] + [Done(list, at, check_id=id) for list, at, id in checks.values_list("list", "at", "id")]
    return sorted(found, key=lambda one: one.at)


def that_does(round: str, done: Iterable[Done]) -> list[Done]:
    """Those things of the log that count for a round."""
    deed = DEEDS[round]
    return [
        one
        for one in done
        if (one.entry_id and one.what in deed.kinds) or (one.check_id and one.what in deed.lists)
    ]


def closing(date: DueDate, done: Iterable[Done]) -> Done | None:
    """The first thing in the span of a date that makes it done."""
    counts = that_does(date.task.round, done)
    return next((one for one in counts if date.due_at <= one.at < date.until), None)


@dataclass(frozen=True)
class Standing:
    """A date as it stands at this moment, whatever the last sweep knew."""

    date: DueDate
    state: str
    done: Done | None


def standing(date: DueDate, done: list[Done], now: dt.datetime) -> Standing:
    """How a date stands: the log has the last word, then the condition that let it go, then the clock."""
    if closed_by := closing(date, done):
        return Standing(date, State.DONE, closed_by)
    if date.state == State.LET_GO:
        return Standing(date, State.LET_GO, None)
    return Standing(date, State.PASSED if date.until <= now else State.OPEN, None)


def standings(rink: Rink, start: dt.datetime, end: dt.datetime, now: dt.datetime) -> list[Standing]:
    """The dates that fall due in a span, as they stand; three queries."""
    dates = list(
        DueDate.objects.select_related("task")
        .filter(task__rink=rink, due_at__gte=start, due_at__lt=end)
        .order_by("due_at", "task_id")
    )
    if not dates:
        return []
    done = done_between(rink, dates[0].due_at, max(date.until for date in dates))
    return [standing(date, done, now) for date in dates]


def to_settle(rink: Rink, now: dt.datetime) -> list[DueDate]:
    """The dates that have begun and may still end differently."""
    return list(
        DueDate.objects.select_related("task__rink").filter(
            task__rink=rink, due_at__lte=now, until__gt=now - LOOK_BACK
        )
    )
