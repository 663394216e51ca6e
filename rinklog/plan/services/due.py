"""Recurring work: its rules, the dates they give, and how each date ends. Safe to run at any time, again and again."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.plan.models import DueDate, RecurringTask
from rinklog.plan.queries import due as queries
from rinklog.plan.queries import weather
from rinklog.plan.queries.due import Done, that_does
from rinklog.plan.rule_words import why_bad
from rinklog.plan.rules.conditions import HOURLY, HourSeen, Seen, let_go
from rinklog.plan.rules.recurrence import BadRule, Recurrence, check, dates
from rinklog.rink.models import Rink

State = DueDate.State
AHEAD = dt.timedelta(days=15)
LAST_LOOK = dt.timedelta(hours=1)
REMEMBER = dt.timedelta(days=60)
"""How far back "so many days since" looks."""


@dataclass(frozen=True)
class TaskContent:
    """Recurring work as a person says it."""

    round: str
    begins_on: dt.date
    at: dt.time
    rule: str
    span_minutes: int = 240
    title: str = ""
    only_when: dict[str, Any] = field(default_factory=dict)
    except_on: tuple[dt.date, ...] = ()


def save_task(*, id: UUID, rink: Rink, content: TaskContent, by: Person, now: dt.datetime) -> RecurringTask:
    """Make recurring work, or change it; its dates ahead follow at once. Errors: Refused, Conflict."""
    refuse_bad(content=content, rink=rink)
    values = vars(content) | {"except_on": sorted(day.isoformat() for day in content.except_on)}
    with transaction.atomic():
        known = RecurringTask.objects.select_for_update().filter(id=id).first()
        if known is not None and known.rink_id != rink.id:
            raise Conflict(None)
        task, _made = RecurringTask.objects.update_or_create(
            id=id, defaults=values, create_defaults=values | {"rink": rink, "by": by, "made_at": now}
        )
        lay_out(rink=rink, now=now)
    return task


def end_task(*, task: RecurringTask, now: dt.datetime) -> None:
    """Stop recurring work: the dates ahead go, those that were stay."""
    with transaction.atomic():
        RecurringTask.objects.filter(id=task.id, ended_at=None).update(ended_at=now)
        DueDate.objects.filter(task=task, state=State.OPEN, due_at__gt=now).delete()


def refuse_bad(*, content: TaskContent, rink: Rink) -> None:
    """Refuse a rule that cannot stand, in one sentence. Errors: Refused."""
    zone = ZoneInfo(rink.time_zone)
    recurrence = Recurrence(content.rule, content.begins_on, content.at, zone, frozenset(content.except_on))
    try:
        check(recurrence)
    except BadRule as bad:
        raise Refused("rule", why_bad(bad)) from None


def lay_out(*, rink: Rink, now: dt.datetime) -> int:
    """Write down the dates of the next two weeks, once each; returns how many were new."""
    rows: list[DueDate] = []
    with transaction.atomic():
        for task in queries.tasks(rink):
            span = dt.timedelta(minutes=task.span_minutes)
            # What can still be done when the rule is made counts: at five past eight, eight o'clock is due.
            first = max(task.made_at - span, now - queries.LOOK_BACK)
            wanted = dates(queries.recurrence_of(task), first, now + AHEAD)
            rows += [DueDate(task=task, due_at=at, until=at + span) for at in wanted]
            ahead = DueDate.objects.filter(task=task, state=State.OPEN, due_at__gt=now)
            ahead.exclude(due_at__in=wanted).delete()
        known = set(
            DueDate.objects.filter(task__rink=rink, due_at__gte=now - queries.LOOK_BACK).values_list(
                "task_id", "due_at"
            )
        )
        new = [row for row in rows if (row.task_id, row.due_at) not in known]
        DueDate.objects.bulk_create(new, ignore_conflicts=True)
    return len(new)


def settle(*, rink: Rink, now: dt.datetime) -> int:
    """Say of every date that has begun how it stands: done, let go, passed, or still due; returns how many changed.

    The log has the last word: a late entry makes a passed date done, a withdrawn one undoes it. What a condition let
    go is judged again until its time is over: a forecast that turns back makes it due again.
    """
    found = queries.to_settle(rink, now)
    if not found:
        return 0
    done = queries.done_between(rink, now - REMEMBER, max(date.until for date in found))
    to_judge = [date for date in found if _is_judged(date, now) and queries.closing(date, done) is None]
    known = _known(rink, to_judge, now)
    changed = [date for date in found if _settle_one(date, done, known, now)]
    with transaction.atomic():
        for date in changed:
            _write(date)
    return len(changed)


@dataclass(frozen=True)
class _Known:
    """What the conditions are judged by."""

    hours: Sequence[HourSeen] = ()
    coat_is_wet: bool | None = None


def _is_judged(date: DueDate, now: dt.datetime) -> bool:
    """Whether a date's conditions still decide: it is open, or was let go and its time is not over."""
    return date.state == State.OPEN or (date.state == State.LET_GO and now < date.until)


def _known(rink: Rink, to_judge: list[DueDate], now: dt.datetime) -> _Known:
    """Read weather and ice only when some condition asks for them."""
    asks_weather = [date for date in to_judge if HOURLY.keys() & date.task.only_when.keys()]
    asks_coat = any(date.task.only_when.get("coat_frozen") for date in to_judge)
    return _Known(
        weather.hours(
            rink, min(date.due_at for date in asks_weather), max(date.until for date in asks_weather)
        )
        if asks_weather
        else (),
        weather.coat_is_wet(rink, now) if asks_coat else None,
    )


def _settle_one(date: DueDate, done: list[Done], known: _Known, now: dt.datetime) -> bool:
    """Set what a date has become; True when it changed."""
    before, judged = (date.state, date.entry_id, date.reason), _is_judged(date, now)
    standing = queries.standing(date, done, now)
    date.state = standing.state
    date.entry_id = standing.done.entry_id if standing.done else None
    if standing.done:
        date.reason = {"key": "check", "id": str(standing.done.check_id)} if standing.done.check_id else {}
    elif judged and (reason := let_go(date.task.only_when, _seen(date, done, known, now))):
        date.state, date.reason = State.LET_GO, reason.as_json()
    elif judged or standing.state != State.LET_GO:
        date.state, date.reason = State.PASSED if date.until <= now else State.OPEN, {}
    if before == (date.state, date.entry_id, date.reason):
        return False
    date.settled_at = None if date.state == State.OPEN else now
    return True


def _seen(date: DueDate, done: list[Done], known: _Known, now: dt.datetime) -> Seen:
    hours = [one for one in known.hours if date.due_at <= one.at < date.until]
    before = [one.at for one in that_does(date.task.round, done) if one.at < date.due_at]
    days = (date.due_at - before[-1]) / dt.timedelta(days=1) if before else None
    # A coat may still freeze within the span, so it is judged when the span is nearly over.
    wet = known.coat_is_wet if now >= date.until - LAST_LOOK else None
    return Seen(hours, wet, days)


def _write(date: DueDate) -> None:
    DueDate.objects.filter(id=date.id).update(
        state=date.state, entry_id=date.entry_id, reason=date.reason, settled_at=date.settled_at
    )
