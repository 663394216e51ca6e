"""What one task brings up to date is gone on with at once, and nothing is done twice side by side."""

import datetime as dt
from typing import Any

import pytest
from django.utils import timezone

from rinklog import celery
from rinklog.advice import tasks as advice
from rinklog.ice import tasks as ice
from rinklog.ice.models import Outlook
from rinklog.rink.models import Rink
from rinklog.upkeep import queue, running
from tests.support.cast import make_cast

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
        ("weather.pull_forecast", "ice.sweep"),
        ("weather.read_file", "ice.sweep"),
        ("ice.project", "advice.sweep"),
    ],
)
def test_new_weather_is_followed_by_ice_and_new_ice_by_advice(
    ended: str, next_one: str, queued: list[Any]
) -> None:
    celery.queue_what_follows(ended)
    assert queued == [(next_one,)]


def test_nothing_follows_any_other_task(queued: list[Any]) -> None:
    celery.queue_what_follows("advice.advise")
    assert queued == []


def test_every_task_that_follows_is_there() -> None:
    celery.app.loader.import_default_modules()
    assert {*celery.FOLLOWS, *celery.FOLLOWS.values()} <= set(celery.app.tasks)


@pytest.mark.django_db
def test_a_site_that_begins_looks_at_the_ice_at_once_and_once(queued: list[Any]) -> None:
    celery._first_heartbeat()
    celery._look_at_once()
    assert queued.count(("ice.sweep",)) == 1


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


@pytest.fixture
def rink(db: None) -> Rink:
    """A rink of which nothing has been worked out yet."""
    return make_cast().rink


@pytest.fixture
def swept(rink: Rink, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The tasks that the sweeps of ice and advice queue for the rink."""
    found: list[str] = []
    for module in (ice, advice):
        monkeypatch.setattr(
            module, "soon", lambda task, id: found.append(task.name) if id == str(rink.id) else None
        )
    return found


def test_advice_waits_for_the_ice_that_is_to_be_worked_out(rink: Rink, swept: list[str]) -> None:
    ice.sweep()
    advice.sweep()
    assert swept == ["ice.project"]
    running.began("a", "ice.project", [rink.id], timezone.now())
    ice.sweep()
    advice.sweep()
    assert swept == ["ice.project"]  # it is being worked out


@pytest.mark.parametrize("end", ["failed", "killed", "done"])
def test_advice_does_not_wait_for_ice_that_cannot_be_worked_out(
    end: str, rink: Rink, swept: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    now = timezone.now()
    running.began("a", "ice.project", [rink.id], now - dt.timedelta(minutes=6))
    if end == "failed":
        running.failed("a", ValueError("no"), now)
    if end == "done":
        running.went_well("a", now)
        monkeypatch.setattr(advice.ice, "stale", lambda _: [])
    advice.sweep()
    assert swept == ["advice.advise"]


def test_the_first_advice_waits_for_the_first_estimate_but_not_for_ever(rink: Rink, swept: list[str]) -> None:
    now = timezone.now()
    Outlook.objects.create(rink=rink, made_at=now, reached_at=now - dt.timedelta(days=20))
    advice.sweep()
    assert swept == []
    Outlook.objects.update(made_at=now - dt.timedelta(minutes=16))
    advice.sweep()
    assert swept == ["advice.advise"]


def test_fresh_advice_that_a_person_asks_for_comes_after_the_ice_that_judges_the_newest_hole(
    rink: Rink, swept: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    now = timezone.now()
    advice.ask_afresh(rink, now)
    assert swept == ["ice.project"]
    running.began("a", "ice.project", [rink.id], now)
    advice.ask_afresh(rink, now)
    assert swept == ["ice.project"]  # being worked out; advice follows it
    monkeypatch.setattr(advice.ice, "is_stale", lambda *_: False)
    advice.ask_afresh(rink, now)
    assert swept == ["ice.project", "advice.advise"]
