"""What one task brings up to date is gone on with at once, and nothing is done twice side by side."""

import datetime as dt
from typing import Any

import pytest
from django.utils import timezone

from rinklog import celery
from rinklog.upkeep import queue, running

NOW = dt.datetime(2026, 1, 15, 20, 30, tzinfo=dt.UTC)


@pytest.fixture
def queued(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
    """What was put on the queue: the task's name and its ids."""
    found: list[tuple[str, ...]] = []
    monkeypatch.setattr(queue, "soon", lambda task, *ids: found.append((task.task, *map(str, ids))))
    return found


@pytest.mark.parametrize(
    ("ended", "next_one"),
    [
        ("ice.project", ("advice.advise", "r1")),
        ("weather.pull_forecast", ("ice.sweep",)),
        ("weather.read_file", ("ice.sweep",)),
    ],
)
def test_new_weather_is_followed_by_ice_and_new_ice_by_advice(
    ended: str, next_one: tuple[str, ...], queued: list[Any]
) -> None:
    celery.queue_what_follows(ended, ["r1"])
    assert queued == [next_one]


def test_nothing_follows_any_other_task(queued: list[Any]) -> None:
    celery.queue_what_follows("advice.advise", ["r1"])
    assert queued == []


def test_every_task_that_follows_is_there() -> None:
    celery.app.loader.import_default_modules()
    names = set(celery.FOLLOWS) | {one for one, _ in celery.FOLLOWS.values()} | {celery.FIRST}
    assert names <= set(celery.app.tasks)


@pytest.mark.django_db
def test_a_worker_that_begins_looks_at_the_ice_first(queued: list[Any]) -> None:
    celery._first_heartbeat()
    assert queued == [("ice.sweep",)]


@pytest.mark.django_db
def test_a_task_is_at_work_on_its_ids_until_it_ends_or_was_surely_killed() -> None:
    running.began("a", "ice.project", ["r1"], NOW)
    minute = dt.timedelta(minutes=1)
    assert running.is_running("ice.project", ["r1"], NOW + minute)
    assert not running.is_running("ice.project", ["r2"], NOW + minute)
    assert not running.is_running("advice.advise", ["r1"], NOW + minute)
    assert not running.is_running("ice.project", ["r1"], NOW + 6 * minute)  # a task is ended after five
    running.went_well("a", NOW + minute)
    assert not running.is_running("ice.project", ["r1"], NOW + 2 * minute)


@pytest.mark.django_db
@pytest.mark.parametrize("busy", ["", "ice.project"])
def test_a_sweep_leaves_a_rink_alone_that_is_being_worked_out(
    busy: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rinklog.advice import tasks as advice
    from rinklog.ice import tasks as ice
    from tests.support.cast import make_cast

    rink = make_cast().rink
    if busy:
        running.began("a", busy, [rink.id], timezone.now())
    found: list[tuple[str, str]] = []
    for module in (ice, advice):
        monkeypatch.setattr(module, "soon", lambda task, id: found.append((task.name, id)))
        module.sweep()
    mine = [name for name, id in found if id == str(rink.id)]
    assert mine == ([] if busy else ["ice.project", "advice.advise"])
