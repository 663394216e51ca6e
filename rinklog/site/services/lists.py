"""Writing the lists: begin one, change a task, say that it is done."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID, uuid5

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.closed import refuse_when_closed
from rinklog.crew.models import Person
from rinklog.crew.queries import crew_of
from rinklog.facts import Conflict, Refused
from rinklog.rink.models import Rink, Season
from rinklog.site.models import SiteTask
from rinklog.site.order import is_circle
from rinklog.site.queries.lists import tasks
from rinklog.site.usual import LISTS, title_of

MOST_TASKS = 100


@dataclass(frozen=True)
class TaskContent:
    """A task as a person says it."""

    title: str
    when: str
    due_on: dt.date | None = None
    needs: tuple[UUID, ...] = ()
    people: tuple[UUID, ...] = ()
    note: str = ""


def begin_list(*, season: Season, name: str, by: Person, now: dt.datetime) -> int:
    """Begin a list from that of the season before, or from the usual one; returns how many tasks it began with.

    A list that has begun stays as it is. Nothing is carried over as done, and no day.
    """
    with transaction.atomic():
        list(Rink.objects.select_for_update().filter(id=season.rink_id))
        if SiteTask.objects.filter(season=season, list=name).exists():
            return 0
        earlier = Season.objects.filter(
            rink=season.rink_id, starts_on__lt=season.starts_on, site_tasks__list=name
        ).first()
        rows = _again(earlier, name) if earlier else _usual(name)
        made = [
            SiteTask(
                id=uuid5(season.id, f"{name} {mark}"), season=season, list=name, place=place, by=by, recorded_at=now,
                **values,
            )
            for place, (mark, values, _needs) in enumerate(rows)
        ]  # fmt: skip
        SiteTask.objects.bulk_create(made)
        ids = {mark: task.id for (mark, _values, _needs), task in zip(rows, made, strict=True)}
        through = SiteTask.needs.through
        through.objects.bulk_create(
            through(from_sitetask_id=ids[mark], to_sitetask_id=ids[need])
            for mark, _values, needs in rows
            for need in needs
            if need in ids
        )
        return len(made)


def _usual(name: str) -> list[tuple[str, dict[str, str], list[str]]]:
    return [(one.key, {"key": one.key, "when": one.when}, [*one.needs]) for one in LISTS[SiteTask.List(name)]]


def _again(earlier: Season, name: str) -> list[tuple[str, dict[str, str], list[str]]]:
    """The tasks of an earlier season: their words, their order and when they suit."""
    return [
        (
            str(one.id),
            {"key": one.key, "title": one.title, "when": one.when, "note": one.note},
            [str(need.id) for need in one.needs.all()],
        )
        for one in tasks(earlier, name)
    ]


def carry_over(*, season: Season, by: Person, now: dt.datetime) -> None:
    """Begin both lists of a season that was opened from the one before. The store is the rink's and goes on by itself."""
    for name in SiteTask.List.values:
        begin_list(season=season, name=name, by=by, now=now)


def keep_task(
    *, id: UUID, season: Season, name: str, content: TaskContent, by: Person, now: dt.datetime
) -> SiteTask:
    """Write a task of one's own, or change one. Errors: Refused for a circle, for too many; Conflict for another's id."""
    refuse_when_closed(season, by, "title")
    values = {
        "title": content.title.strip()[:120],
        "when": content.when,
        "due_on": content.due_on,
        "note": content.note.strip()[:400],
    }
    with transaction.atomic():
        list(Rink.objects.select_for_update().filter(id=season.rink_id))
        there = SiteTask.objects.filter(season=season, list=name)
        known = SiteTask.objects.filter(id=id).first()
        if known is not None and (known.season_id, known.list) != (season.id, name):
            raise Conflict(None)
        if known is None and there.count() >= MOST_TASKS:
            raise Refused(
                "title", _("The list has %(most)d tasks already; remove one first.") % {"most": MOST_TASKS}
            )
        if not values["title"] and not (known and known.key):
            raise Refused("title", _("Task is empty; it is needed."))
        if known is None:
            known = SiteTask.objects.create(
                id=id, season=season, list=name, place=there.count(), by=by, recorded_at=now, **values
            )
        else:
            SiteTask.objects.filter(id=id).update(**values)
            known.refresh_from_db()
        _connect(known, content.needs)
        known.people.set([one for one in crew_of(season.rink) if one.id in content.people])
    return known


def _connect(task: SiteTask, wanted: Iterable[UUID]) -> None:
    """Set what a task needs. Errors: Refused when it would come before itself."""
    rows = {one.id: one for one in tasks(task.season, task.list)}
    chosen = {id for id in wanted if id in rows}
    needs = {id: {need.id for need in one.needs.all()} for id, one in rows.items()}
    for id in chosen:
        if is_circle(task.id, {id}, needs):
            raise Refused(
                "needs",
                _("“%(before)s” itself comes after “%(task)s”; leave one of the two out.")
                % {"before": title_of(rows[id]), "task": title_of(task)},
            )
    task.needs.set([rows[id] for id in chosen])


def finish_task(*, task: SiteTask, on: dt.date, today: dt.date, by: Person, anyway: bool = False) -> SiteTask:
    """Say that a task is done.

    Errors: Refused for a day to come, and while what it needs is not done, unless `anyway`.
    """
    refuse_when_closed(task.season, by, "on")
    if on > today:
        raise Refused("on", _("The day is still to come; allowed is up to today."))
    missing = [one for one in task.needs.all() if one.done_on is None]
    if missing and not anyway:
        raise Refused(
            "needs",
            _("“%(task)s” comes after “%(before)s”: not done yet.")
            % {"task": title_of(task), "before": "”, “".join(title_of(one) for one in missing)},
        )
    SiteTask.objects.filter(id=task.id, done_on=None).update(done_on=on, done_by=by)
    task.refresh_from_db()
    return task


def reopen_task(*, task: SiteTask, by: Person) -> None:
    """Say that a task is not done after all."""
    refuse_when_closed(task.season, by, "on")
    SiteTask.objects.filter(id=task.id).update(done_on=None, done_by=None)


def remove_task(*, task: SiteTask, by: Person) -> None:
    """Drop a task; what came after it no longer waits for it."""
    refuse_when_closed(task.season, by, "title")
    task.delete()
