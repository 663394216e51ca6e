"""The lists of autumn and spring: order, people, done or not, and what goes on into the next season."""

import datetime as dt
from uuid import uuid4

import pytest

from rinklog.facts import Refused
from rinklog.rink.closing import close_season
from rinklog.site.forecast_dates import Suits
from rinklog.site.models import SiteTask
from rinklog.site.queries.lists import season_for, standings
from rinklog.site.services.lists import (
    TaskContent,
    begin_list,
    carry_over,
    finish_task,
    keep_task,
    remove_task,
)
from tests.support.cast import NOW, Cast
from tests.support.sites import a_list

TODAY = NOW.date()


def test_a_list_begins_once_with_the_usual_tasks(cast: Cast) -> None:
    usual = a_list(cast)
    assert begin_list(season=cast.season, name="set-up", by=cast.bo, now=NOW) == 0
    assert set(a_list(cast)) == set(usual)
    assert {one.key for one in usual["liner"].needs.all()} == {"under-liner", "board-check"}


def test_what_comes_before_is_asked_for_once(cast: Cast) -> None:
    tasks = a_list(cast)
    with pytest.raises(Refused) as refused:
        finish_task(task=tasks["liner"], on=TODAY, today=TODAY, by=cast.cleo)
    assert str(refused.value.sentence) == (
        "“Lay the liner, just before the water” comes after “Inspect the boards before any water”, "
        "“Everything that belongs under the liner lies there”: not done yet."
    )
    done = finish_task(task=tasks["liner"], on=TODAY, today=TODAY, by=cast.cleo, anyway=True)
    assert (done.done_on, done.done_by) == (TODAY, cast.cleo)
    with pytest.raises(Refused, match="still to come"):
        finish_task(task=tasks["hose"], on=TODAY + dt.timedelta(days=1), today=TODAY, by=cast.cleo)


def test_done_twice_keeps_the_first_day(cast: Cast) -> None:
    task = a_list(cast)["hose"]
    finish_task(task=task, on=TODAY - dt.timedelta(days=3), today=TODAY, by=cast.cleo)
    assert finish_task(task=task, on=TODAY, today=TODAY, by=cast.dag).done_by == cast.cleo


def test_a_task_stands_by_its_day_and_by_what_it_waits_for(cast: Cast) -> None:
    tasks = a_list(cast)
    said = TaskContent(
        title="", when="any", due_on=TODAY - dt.timedelta(days=1), people=(cast.dag.id, cast.eli.id)
    )
    keep_task(id=tasks["signs"].id, season=cast.season, name="set-up", content=said, by=cast.bo, now=NOW)
    frost = {"before-frost": Suits(TODAY + dt.timedelta(days=3), by_then=True)}
    found = {one.task.key: one for one in standings(cast.season, "set-up", frost, TODAY)}
    assert (found["signs"].state, found["signs"].people) == ("late", ["Dag"])  # a guest is not named on work
    assert (found["stakes"].state, found["stakes"].on) == ("soon", TODAY + dt.timedelta(days=3))
    assert [one.key for one in found["stakes"].waits_for] == ["buried", "string"]
    assert (found["boards"].state, found["permits"].state) == ("waits", "open")
    keys = [*found]
    assert keys.index("under-liner") < keys.index("liner") < keys.index("fill")


def test_a_circle_is_refused_by_its_names(cast: Cast) -> None:
    tasks = a_list(cast)
    said = TaskContent(title="", when="before-frost", needs=(tasks["fill"].id,))
    with pytest.raises(Refused) as refused:
        keep_task(id=tasks["stakes"].id, season=cast.season, name="set-up", content=said, by=cast.bo, now=NOW)
    assert str(refused.value.sentence) == (
        "“First fill” itself comes after “Drive the stakes”; leave one of the two out."
    )
    assert {one.key for one in tasks["stakes"].needs.all()} == {"string", "buried"}


def test_a_task_without_words_is_refused_and_a_removed_one_holds_nothing_up(cast: Cast) -> None:
    tasks = a_list(cast)
    with pytest.raises(Refused, match="Task is empty"):
        keep_task(
            id=uuid4(),
            season=cast.season,
            name="set-up",
            content=TaskContent(" ", "any"),
            by=cast.bo,
            now=NOW,
        )
    remove_task(task=tasks["buried"], by=cast.bo)
    assert {one.key for one in tasks["stakes"].needs.all()} == {"string"}


def test_the_next_season_begins_with_the_tasks_of_this_one_undone(cast: Cast) -> None:
    season = cast.season
    tasks = a_list(cast)
    finish_task(task=tasks["survey"], on=TODAY, today=TODAY, by=cast.cleo)
    own = TaskContent(
        title="Borrow the post driver",
        when="before-frost",
        needs=(tasks["permits"].id,),
        people=(cast.dag.id,),
    )
    keep_task(id=uuid4(), season=season, name="set-up", content=own, by=cast.bo, now=NOW)
    opened = close_season(
        season=season, ends_on=TODAY, now=NOW, today=TODAY, next_starts_on=TODAY + dt.timedelta(days=300)
    )
    assert opened is not None
    for _ in "12":
        carry_over(season=opened, by=cast.ada, now=NOW)
    again = {one.title or one.key: one for one in SiteTask.objects.filter(season=opened, list="set-up")}
    assert set(again) == {*tasks, "Borrow the post driver"}
    assert {one.key for one in again["Borrow the post driver"].needs.all()} == {"permits"}
    assert [one.done_on for one in again.values()] == [None] * len(again)
    # Until it begins, the set-up list is the next season's and the take-down list still this one's.
    season.refresh_from_db()
    assert season_for(cast.rink, season, "set-up") == opened
    assert season_for(cast.rink, season, "take-down") == season
    with pytest.raises(Refused, match="is closed"):
        finish_task(task=tasks["hose"], on=TODAY, today=TODAY, by=cast.cleo)
