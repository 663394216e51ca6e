"""Only when it is cold, calm and dry enough, the coat is frozen, and long enough ago. Limits are the tests' own."""

import datetime as dt

import pytest

from rinklog.plan.rules.conditions import HourSeen, Seen, let_go

AT = dt.datetime(2026, 1, 15, 18, tzinfo=dt.UTC)


def hours(*values: tuple[float | None, float | None, float | None]) -> Seen:
    return Seen([HourSeen(AT + dt.timedelta(hours=n), *value) for n, value in enumerate(values)])


def test_an_hour_that_suits_in_every_way_is_enough() -> None:
    only_when = {"colder_than_c": -7, "calmer_than_ms": 5, "no_snow": True}
    assert let_go(only_when, hours((-3, 2, 0), (-8, 4, 0))) is None


def test_cold_and_calm_in_different_hours_do_not_add_up() -> None:
    reason = let_go({"colder_than_c": -7, "calmer_than_ms": 5}, hours((-3, 2, 0), (-8, 9, 0)))
    assert reason is not None
    assert reason.key in ("colder_than_c", "calmer_than_ms")


def test_the_limit_itself_is_not_colder() -> None:
    reason = let_go({"colder_than_c": -7}, hours((-7.0, 2, 0), (-5, 2, 0)))
    assert reason is not None
    assert (reason.key, reason.asked, reason.found, reason.at) == ("colder_than_c", -7, -7.0, AT)
    assert let_go({"colder_than_c": -7}, hours((-7.1, 2, 0))) is None


def test_snow_in_every_hour_lets_it_go_and_a_dry_hour_does_not() -> None:
    assert let_go({"no_snow": True}, hours((-3, 2, 0.3), (-3, 2, 0.1))).key == "no_snow"  # type: ignore[union-attr]
    assert let_go({"no_snow": True}, hours((-3, 2, 0.3), (-3, 2, 0.0))) is None


@pytest.mark.parametrize("seen", [Seen(), hours((None, None, None))])
def test_what_nobody_knows_lets_nothing_go(seen: Seen) -> None:
    only_when = {"colder_than_c": -7, "no_snow": True, "coat_frozen": True, "days_since": 2}
    assert let_go(only_when, seen) is None


def test_a_wet_coat_lets_it_go() -> None:
    reason = let_go({"coat_frozen": True}, Seen(coat_is_wet=True))
    assert reason is not None
    assert reason.key == "coat_frozen"
    assert let_go({"coat_frozen": True}, Seen(coat_is_wet=False)) is None


def test_so_many_days_since_the_last_time() -> None:
    assert let_go({"days_since": 2}, Seen(days_since=1.9)).found == 1.9  # type: ignore[union-attr]
    assert let_go({"days_since": 2}, Seen(days_since=2.0)) is None
