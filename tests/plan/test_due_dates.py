"""How a date of recurring work ends: done by the log, let go with a reason, or passed. Nobody ticks it."""

import datetime as dt
from uuid import UUID, uuid4

import pytest

from rinklog.facts import Refused
from rinklog.plan.models import DueDate, RecurringTask
from rinklog.plan.queries import due as queries
from rinklog.plan.services.due import TaskContent, end_task, lay_out, save_task, settle
from rinklog.weather.hours import Hour
from rinklog.weather.services import store_observations
from rinklog.work.models import Entry
from rinklog.work.services import withdraw_entry
from tests.support.cast import NOW, Cast

# Oslo is one hour ahead of UTC in January: 20:00 there is 19:00 UTC. NOW is 20:30 UTC on the 15th.
MADE = dt.datetime(2026, 1, 14, 12, tzinfo=dt.UTC)
DUE = dt.datetime(2026, 1, 15, 19, tzinfo=dt.UTC)


def every_evening(
    cast: Cast, *, id: UUID | None = None, now: dt.datetime = MADE, **more: object
) -> RecurringTask:
    values: dict[str, object] = {
        "round": "resurfacing",
        "begins_on": dt.date(2026, 1, 15),
        "at": dt.time(20),
        "rule": "FREQ=DAILY;UNTIL=20260331",
    }
    content = TaskContent(**(values | more))  # type: ignore[arg-type]
    return save_task(id=id or uuid4(), rink=cast.rink, content=content, by=cast.ada, now=now)


def weather(cast: Cast, at: dt.datetime, **values: float) -> None:
    store_observations(rink=cast.rink, source="test", hours=[Hour(at, **values)], recorded_at=at)  # type: ignore[arg-type]


def state(now: dt.datetime, cast: Cast) -> tuple[str, str]:
    settle(rink=cast.rink, now=now)
    date = DueDate.objects.get(due_at=DUE)
    return date.state, date.reason.get("key", "")


def hours(number: float) -> dt.timedelta:
    return dt.timedelta(hours=number)


def test_a_rule_gives_the_dates_of_two_weeks_once(cast: Cast) -> None:
    every_evening(cast)
    assert DueDate.objects.count() == 14  # the 15th to the 28th, 15 days ahead of noon on the 14th
    assert lay_out(rink=cast.rink, now=MADE) == 0
    assert lay_out(rink=cast.rink, now=MADE + dt.timedelta(days=1)) == 1
    assert DueDate.objects.first().due_at == DUE  # type: ignore[union-attr]


def test_a_rule_made_while_its_first_time_lasts_counts_it_and_one_made_after_it_does_not(cast: Cast) -> None:
    every_evening(cast, now=DUE + hours(0.1))
    every_evening(cast, title="Too late", now=DUE + hours(4.1))
    first = {date.task.title: date.due_at for date in reversed(DueDate.objects.select_related("task"))}
    assert first == {"": DUE, "Too late": DUE + hours(24)}


def test_a_date_is_due_then_done_by_a_flood_in_its_span(cast: Cast) -> None:
    every_evening(cast)
    assert state(DUE + hours(0.5), cast) == ("open", "")
    flood = cast.flood(started_at=DUE + hours(1), now=NOW)
    assert state(DUE + hours(2), cast) == ("done", "")
    assert DueDate.objects.get(due_at=DUE).entry == flood


def test_other_work_and_a_flood_outside_the_span_do_not_count(cast: Cast) -> None:
    every_evening(cast)
    cast.work("snow-removal", started_at=DUE + hours(1))
    cast.flood(started_at=DUE - hours(0.1))
    assert state(DUE + hours(3.9), cast) == ("open", "")
    assert state(DUE + hours(4), cast) == ("passed", "")


def test_a_late_entry_makes_a_passed_date_done_and_a_withdrawn_one_undoes_it(cast: Cast) -> None:
    every_evening(cast)
    assert state(DUE + hours(30), cast)[0] == "passed"
    flood: Entry = cast.flood(started_at=DUE + hours(1), now=DUE + hours(31))
    assert state(DUE + hours(31), cast)[0] == "done"
    withdraw_entry(id=uuid4(), entry=flood, reason="another rink", by=cast.cleo, now=DUE + hours(32))
    assert state(DUE + hours(32), cast)[0] == "passed"


def test_the_page_knows_a_flood_before_the_sweep_does(cast: Cast) -> None:
    every_evening(cast)
    cast.flood(started_at=DUE + hours(1))
    (first, *_rest) = queries.standings(cast.rink, DUE, DUE + hours(1), DUE + hours(2))
    assert (first.state, first.date.state) == ("done", "open")


def test_it_is_let_go_when_it_was_never_cold_enough_and_says_so(cast: Cast) -> None:
    every_evening(cast, only_when={"colder_than_c": -7.0})
    weather(cast, DUE, air_c=-3.0)
    weather(cast, DUE + hours(1), air_c=-4.5)
    assert state(DUE + hours(0.5), cast) == ("let-go", "colder_than_c")
    reason = DueDate.objects.get(due_at=DUE).reason
    assert (reason["asked"], reason["found"], reason["at"]) == (-7.0, -4.5, (DUE + hours(1)).isoformat())


def test_a_forecast_that_turns_cold_within_its_time_makes_it_due_again_and_after_it_nothing_does(
    cast: Cast,
) -> None:
    every_evening(cast, only_when={"colder_than_c": -7.0})
    weather(cast, DUE, air_c=-3.0)
    assert state(DUE + hours(0.5), cast)[0] == "let-go"
    weather(cast, DUE + hours(2), air_c=-8.0)
    assert state(DUE + hours(1), cast) == ("open", "")
    assert state(DUE + hours(4), cast) == ("passed", "")
    mild = dt.timedelta(days=1)
    weather(cast, DUE + mild, air_c=-3.0)
    settle(rink=cast.rink, now=DUE + mild + hours(1))
    weather(cast, DUE + mild + hours(1), air_c=-9.0)
    settle(rink=cast.rink, now=DUE + mild + hours(5))
    assert DueDate.objects.get(due_at=DUE + mild).state == "let-go"  # as it was said while it counted


def test_who_floods_all_the_same_has_done_it(cast: Cast) -> None:
    every_evening(cast, only_when={"colder_than_c": -7.0})
    weather(cast, DUE, air_c=-3.0)
    assert state(DUE + hours(0.5), cast)[0] == "let-go"
    cast.flood(started_at=DUE + hours(1))
    assert state(DUE + hours(1.5), cast)[0] == "done"


def test_cold_in_one_hour_keeps_it_due_and_nothing_known_too(cast: Cast) -> None:
    every_evening(cast, only_when={"colder_than_c": -7.0, "coat_frozen": False})
    assert state(DUE + hours(0.1), cast) == ("open", "")
    weather(cast, DUE, air_c=-3.0)
    weather(cast, DUE + hours(3), air_c=-7.5)
    assert state(DUE + hours(0.5), cast) == ("open", "")


def test_a_coat_that_is_still_wet_at_the_end_of_the_span_lets_the_next_one_go(cast: Cast) -> None:
    every_evening(cast, only_when={"coat_frozen": True})
    cast.flood(started_at=DUE - hours(1))
    assert state(DUE + hours(1), cast) == ("open", "")
    assert state(DUE + hours(3.5), cast) == ("let-go", "coat_frozen")


def test_so_many_days_since_counts_from_the_last_one_of_that_kind(cast: Cast) -> None:
    every_evening(cast, only_when={"days_since": 2})
    cast.flood(started_at=DUE - hours(47))
    assert state(DUE + hours(0.5), cast) == ("let-go", "days_since")


def test_a_changed_rule_takes_its_old_dates_ahead_away(cast: Cast) -> None:
    task = every_evening(cast)
    every_evening(cast, id=task.id, rule="FREQ=WEEKLY;BYDAY=TU;UNTIL=20260331")
    assert [date.due_at.day for date in DueDate.objects.all()] == [20, 27]
    every_evening(
        cast, id=task.id, except_on=(dt.date(2026, 1, 20),), rule="FREQ=WEEKLY;BYDAY=TU;UNTIL=20260331"
    )
    assert [date.due_at.day for date in DueDate.objects.all()] == [27]
    end_task(task=task, now=MADE)
    assert not DueDate.objects.exists()


@pytest.mark.parametrize(
    ("rule", "sentence"),
    [
        ("FREQ=DAILY", "goes on for ever"),
        ("FREQ=DAILY;UNTIL=20250101", "ends before it begins"),
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30;COUNT=2", "never falls on any day"),
        ("now and then", "RFC 5545"),
    ],
)
def test_a_rule_that_cannot_stand_is_one_sentence(cast: Cast, rule: str, sentence: str) -> None:
    with pytest.raises(Refused, match=sentence) as refused:
        every_evening(cast, rule=rule)
    assert str(refused.value.sentence).count(".") == 1
    assert not RecurringTask.objects.exists()


def test_every_round_has_something_in_the_log_that_does_it() -> None:
    from rinklog.plan.deeds import DEEDS

    assert set(DEEDS) == set(RecurringTask.Round.values)
    assert all(deed.kinds or deed.lists for deed in DEEDS.values())
