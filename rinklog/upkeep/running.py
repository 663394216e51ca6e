"""How the runs of tasks are written down. A fault here is logged and never costs a task."""

import datetime as dt
import logging
from collections.abc import Sequence
from typing import Any

from django.db import DatabaseError, transaction

from rinklog.upkeep.models import TaskRun

log = logging.getLogger(__name__)
State = TaskRun.State
UNTOLD = frozenset({"upkeep.beat_heart"})
"""Tasks whose runs say nothing new: the heart has a row of its own."""
KEPT_FOR = dt.timedelta(days=14)
CUT_OFF = dt.timedelta(minutes=5)
"""A task is ended after this long; what began earlier and did not end was killed."""


def began(task_id: str, name: str, args: list[Any], now: dt.datetime) -> None:
    """A task begins, perhaps once more after a worker was killed."""
    if name in UNTOLD:
        return
    try:
        with transaction.atomic():
            values = {"state": State.RUNNING, "started_at": now, "ended_at": None, "error": ""}
            run, made = TaskRun.objects.get_or_create(
                task_id=task_id, defaults=values | {"name": name, "args": [str(one)[:80] for one in args]}
            )
            if not made:
                TaskRun.objects.filter(id=run.id).update(tries=run.tries + 1, **values)
    except DatabaseError:
        log.exception("the beginning of %s could not be written down", name)


def is_running(name: str, ids: Sequence[object], now: dt.datetime) -> bool:
    """Whether a task is at work on just these ids."""
    here = TaskRun.objects.filter(name=name, args=[str(one) for one in ids], state=State.RUNNING)
    return here.filter(started_at__gt=now - CUT_OFF).exists()


def broke(name: str, ids: Sequence[object], now: dt.datetime) -> bool:
    """Whether the last run of a task on just these ids failed, or was killed."""
    runs = TaskRun.objects.filter(name=name, args=[str(one) for one in ids])
    last = runs.order_by("-started_at").first()
    if last is None or last.state == State.DONE:
        return False
    return last.state == State.FAILED or last.started_at <= now - CUT_OFF


def went_well(task_id: str, now: dt.datetime) -> None:
    """A task ended well: it makes good what failed before, and takes the place of the last good run."""
    try:
        with transaction.atomic():
            run = TaskRun.objects.filter(task_id=task_id).first()
            if run is None:
                return
            TaskRun.objects.filter(id=run.id).update(state=State.DONE, ended_at=now)
            same = TaskRun.objects.filter(name=run.name, args=run.args).exclude(id=run.id)
            same.filter(state=State.DONE).delete()
            same.filter(made_good_at=None, started_at__lte=run.started_at).exclude(state=State.DONE).update(
                made_good_at=now
            )
    except DatabaseError:
        log.exception("the end of task %s could not be written down", task_id)


def failed(task_id: str, error: Any, now: dt.datetime) -> None:
    """A task failed; its name and the last words of the fault are kept."""
    said = f"{type(error).__name__}: {error}" if isinstance(error, BaseException) else str(error)
    try:
        TaskRun.objects.filter(task_id=task_id).update(state=State.FAILED, ended_at=now, error=said[:500])
    except DatabaseError:
        log.exception("the failure of task %s could not be written down", task_id)
