"""What is written down of the runs of tasks: what ran, what failed and why, and what was made good."""

import datetime as dt

import pytest

from rinklog.upkeep import queries, running
from rinklog.upkeep.models import TaskRun
from rinklog.upkeep.services import forget_runs, mark_run_again

NOW = dt.datetime(2026, 1, 15, 20, 30, tzinfo=dt.UTC)
pytestmark = pytest.mark.django_db


def minutes(number: float) -> dt.timedelta:
    return dt.timedelta(minutes=number)


def ran(id: str, at: dt.datetime, *, fails: str = "", args: tuple[str, ...] = ()) -> None:
    running.began(id, "plan.sweep", list(args), at)
    if fails:
        running.failed(id, OSError(fails), at + minutes(1))
    else:
        running.went_well(id, at + minutes(1))


def test_of_good_runs_only_the_last_is_kept_for_each_task_and_what_it_was_about() -> None:
    for number in range(3):
        ran(f"a{number}", NOW + minutes(number))
    ran("b", NOW, args=("rink-1",))
    assert sorted(TaskRun.objects.values_list("task_id", flat=True)) == ["a2", "b"]


def test_a_failure_keeps_its_reason_until_the_same_task_goes_well() -> None:
    ran("a", NOW, fails="no such host")
    ran("b", NOW + minutes(5), args=("another",))
    (trouble,) = queries.troubles(NOW + minutes(9))
    assert trouble.error == "OSError: no such host"
    ran("c", NOW + minutes(10))
    assert not queries.troubles(NOW + minutes(20)).exists()
    assert TaskRun.objects.get(task_id="a").made_good_at == NOW + minutes(11)


def test_what_a_killed_worker_left_is_a_trouble_once_it_cannot_be_running_any_more() -> None:
    running.began("a", "plan.sweep", [], NOW)
    assert not queries.troubles(NOW + minutes(5)).exists()
    assert queries.troubles(NOW + minutes(7)).get().task_id == "a"
    running.began("a", "plan.sweep", [], NOW + minutes(10))  # the queue gave it out again
    running.went_well("a", NOW + minutes(11))
    assert not queries.troubles(NOW + minutes(30)).exists()
    assert TaskRun.objects.get().tries == 2


def test_the_heart_is_not_written_down_and_old_runs_are_forgotten() -> None:
    running.began("h", "upkeep.beat_heart", [], NOW)
    assert not TaskRun.objects.exists()
    ran("a", NOW, fails="x")
    assert forget_runs(before=NOW) == 0
    assert forget_runs(before=NOW + minutes(1)) == 1


def test_of_two_who_ask_for_it_again_one_does() -> None:
    ran("a", NOW, fails="x")
    run = TaskRun.objects.get()
    assert [mark_run_again(run=run, now=NOW), mark_run_again(run=run, now=NOW)] == [True, False]
