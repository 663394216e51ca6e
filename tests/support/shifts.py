"""Shifts of the named cast, for tests."""

import datetime as dt
from uuid import UUID, uuid4

from rinklog.crew.models import Person
from rinklog.plan.models import (
    Availability,
    HandOver,
    OnIce,
    Permission,
    RecurringTask,
    Shift,
    ShiftPlace,
    Team,
)
from rinklog.plan.rules.availability import Line
from rinklog.plan.services.due import TaskContent, save_task
from rinklog.plan.services.hand_over import Words, hand_over
from rinklog.plan.services.people import say_availability
from rinklog.plan.services.places import take
from rinklog.plan.services.shifts import ShiftContent, make_shift
from rinklog.plan.services.teams import save_team
from rinklog.upkeep.models import TaskRun
from tests.support.cast import NOW, Cast

# The pages ask the real clock, so that their shifts lie far ahead of it and of the cast's own evening.
SOON = dt.datetime.now(dt.UTC).replace(hour=19, minute=0, second=0, microsecond=0) + dt.timedelta(days=2)


def a_shift(
    cast: Cast,
    *,
    id: UUID | None = None,
    by: Person | None = None,
    made_at: dt.datetime | None = None,
    **content: object,
) -> Shift:
    """Bo makes a flood shift for two people, the day after tomorrow from 19:00 UTC, or as told."""
    values: dict[str, object] = {"work": "flood", "starts_at": SOON, "minutes": 120}
    return make_shift(
        id=id or uuid4(),
        rink=cast.rink,
        content=ShiftContent(**(values | content)),  # type: ignore[arg-type]
        by=by or cast.bo,
        now=made_at or SOON - dt.timedelta(days=2),
    )


def a_place(cast: Cast, person: Person | None = None, shift: Shift | None = None) -> ShiftPlace:
    """Cleo (or whom you name) is on a shift."""
    who = person or cast.cleo
    on = shift or a_shift(cast)
    return take(id=uuid4(), shift=on, person=who, by=who, now=on.made_at)


def allow(cast: Cast, person: Person, what: str, **more: object) -> Permission:
    """Let a person do something, from the season's first day on."""
    values: dict[str, object] = {"since": cast.season.starts_on, "by": cast.ada, "recorded_at": NOW}
    return Permission.objects.create(rink=cast.rink, person=person, what=what, **(values | more))


def a_recurring_task(cast: Cast) -> RecurringTask:
    """Resurfacing every evening for a month, from two days ago."""
    begins = SOON.date() - dt.timedelta(days=4)
    last = begins + dt.timedelta(days=30)
    content = TaskContent(
        "resurfacing", begins, dt.time(20), f"FREQ=DAILY;UNTIL={last:%Y%m%d}", only_when={"no_snow": True}
    )
    return save_task(
        id=uuid4(), rink=cast.rink, content=content, by=cast.ada, now=SOON - dt.timedelta(days=4)
    )


def a_run() -> TaskRun:
    """A task that failed."""
    return TaskRun.objects.create(
        task_id=str(uuid4()), name="plan.sweep", state="failed", error="OSError: no such host", started_at=NOW
    )


def a_line(cast: Cast) -> Availability:
    """Dag likes Tuesdays."""
    line = Line("likes", "Europe/Oslo", 1)
    return say_availability(id=uuid4(), rink=cast.rink, person=cast.dag, line=line, now=NOW)


def a_team(cast: Cast) -> Team:
    """Dag leads, Cleo comes along, on Wednesdays."""
    return save_team(
        id=uuid4(), rink=cast.rink, name="Wednesday", weekday=2, starts_at=dt.time(20), minutes=120,
        leader=cast.dag, people=[cast.cleo], by=cast.bo, now=SOON - dt.timedelta(days=2),
    )  # fmt: skip


def a_hand_over(cast: Cast) -> HandOver:
    """Dag hands over."""
    words = Words(hose="behind the hut, drained", machines="blower wants a shear bolt")
    return hand_over(id=uuid4(), rink=cast.rink, shift=None, words=words, by=cast.dag, now=NOW)


def a_stay(cast: Cast) -> OnIce:
    """Dag is on the ice."""
    return OnIce.objects.create(
        rink=cast.rink, person=cast.dag, on_at=NOW, off_by=NOW + dt.timedelta(hours=1), noted_by=cast.dag
    )
