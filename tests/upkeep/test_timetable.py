"""The one timetable: every line names a task that is there, and every task says how it is tried again."""

import ast
from pathlib import Path
from typing import Any

import pytest
from celery import Task
from celery.signals import beat_init
from django.db import OperationalError
from django.utils import timezone

from rinklog.celery import TIMETABLE, app
from rinklog.upkeep import queue, running
from tests.support.cast import make_cast
from tests.support.site import ROOT


def tasks() -> "dict[str, Task[Any, Any]]":
    """Every task of ours by its name."""
    app.loader.import_default_modules()
    app.finalize()
    return {name: task for name, task in app.tasks.items() if task.__module__.startswith("rinklog.")}


def test_every_line_of_the_timetable_is_a_task_and_is_there_once() -> None:
    named = [task for task, _when in TIMETABLE.values()]
    assert set(named) <= set(tasks())
    assert len(named) == len(set(named))


def test_every_task_is_named_after_its_app_and_tried_again_a_few_times_when_the_database_is_busy() -> None:
    found = tasks()
    assert len(found) >= 20
    for name, task in found.items():
        assert name.split(".")[0] == task.__module__.split(".")[1], name
        assert OperationalError in getattr(task, "autoretry_for", ()), name
        assert 1 <= (task.max_retries or 0) <= 3, name


def test_tasks_are_acknowledged_when_they_are_done_and_what_the_clock_said_long_ago_is_dropped() -> None:
    assert app.conf.task_acks_late
    assert app.conf.task_reject_on_worker_lost
    assert app.conf.worker_prefetch_multiplier == 1
    waits = {entry["options"]["expires"] for entry in app.conf.beat_schedule.values()}
    # Longer than any rest of the queue, shorter than a night: a day without a worker leaves no day of messages.
    assert all(600 < seconds <= 6 * 3600 for seconds in waits)


def test_nothing_but_the_timetable_goes_by_a_clock() -> None:
    for file in Path(ROOT / "rinklog").rglob("*.py"):
        called = [one.func for one in ast.walk(ast.parse(file.read_text())) if isinstance(one, ast.Call)]
        names = {one.attr for one in called if isinstance(one, ast.Attribute)}
        assert "add_periodic_task" not in names, file


@pytest.mark.django_db(transaction=True)
def test_a_clock_that_starts_asks_for_every_sweep_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(queue, "_queue", lambda task, ids: asked.append(task.name))
    beat_init.send(sender=None)
    sweeps = [task for task, _when in TIMETABLE.values() if task.split(".")[1].startswith(("sweep", "watch"))]
    assert len(sweeps) >= 8
    assert set(sweeps) <= set(asked)
    assert "telling.send_waiting" in asked
    assert len(asked) == len(set(asked))
    assert "upkeep.beat_heart" not in asked


@pytest.mark.django_db
def test_the_sweep_queues_what_is_stale_and_not_what_runs_now(
    monkeypatch: pytest.MonkeyPatch, django_capture_on_commit_callbacks: Any
) -> None:
    cast = make_cast()
    rinks = sorted(str(one.id) for one in (cast.rink, cast.other_rink))
    asked: list[tuple[str, list[str]]] = []
    monkeypatch.setattr(queue, "_queue", lambda task, ids: asked.append((task.name, ids)))
    for busy in (False, True):
        if busy:
            running.began("a", "ice.project", [rinks[0]], timezone.now())
        with django_capture_on_commit_callbacks(execute=True):
            tasks()["ice.sweep"].run()
    first, second = asked[:2], asked[2:]
    assert sorted(first) == [("ice.project", [rinks[0]]), ("ice.project", [rinks[1]])]
    assert second == [("ice.project", [rinks[1]])]
