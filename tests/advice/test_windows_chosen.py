"""Which starts become windows: the crew's hours, the deadline on the rink's clock, and what spoils a wet coat."""

import datetime as dt
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from rinklog.advice.search import COATS_MM, Freezing
from rinklog.advice.windows import Terms, by_night, fault, permitted, starts, windows
from tests.advice.scene import DEFAULTS, HOUR, hours

OSLO = ZoneInfo("Europe/Oslo")
# 18:00 in Oslo
FIRST = dt.datetime(2026, 1, 15, 17, tzinfo=dt.UTC)


def terms(air_c: float = -10.0, count: int = 96, **known: Any) -> Terms:
    ahead = hours([air_c] * count, first=FIRST, wind_ms=2.0)
    rules = DEFAULTS | known.pop("rules", {})
    return Terms(now=FIRST, zone=OSLO, rules=rules, first_at=FIRST, hours=ahead, **known)


def found_by(terms: Terms, hours_of: Any) -> Freezing:
    """Hours by coat and member as told, at every start."""
    tried = starts(terms)
    each = np.array([[hours_of(mm, m) for m in range(10)] for mm in COATS_MM])
    return Freezing(
        tried, COATS_MM, np.repeat(each[None], len(tried), axis=0), tuple(map(terms.limit_h, tried)),
        np.zeros(len(tried)),
    )  # fmt: skip


def test_the_crew_floods_at_its_own_hours_and_others_do_too_when_the_rule_says_so() -> None:
    local = {(FIRST + n * HOUR).astimezone(OSLO).hour for n in permitted(terms())}
    assert local == {17, 18, 19, 20, 21, 22, 23}
    night = terms(rules={"flood_first_hour": 22, "flood_last_hour": 6})
    assert {(FIRST + n * HOUR).astimezone(OSLO).hour for n in permitted(night)} == {
        22,
        23,
        0,
        1,
        2,
        3,
        4,
        5,
        6,
    }


def test_a_hose_that_takes_long_leaves_less_time_to_freeze_and_a_thinner_coat() -> None:
    """An hour of freezing for each millimetre, half an hour at the hose for each: worked out by hand."""
    pours = terms(pour_h_per_mm=0.5, rules={"flood_longest_minutes": 6 * 60})
    (first,) = (one for one in windows(found_by(pours, lambda mm, m: mm), pours) if one.starts_at == FIRST)
    # In 14 hours until 8 o'clock 9.3 mm could be laid and frozen (14 / 1.5): of the coats that are tried, 8 mm.
    assert first.coat_mm == 8.0
    assert first.frozen_by.middle == FIRST + 12 * HOUR
    assert first.pour_h == 4.0
    assert [row[2] for row in first.curve] == [1.5 * mm for mm in COATS_MM]
    at_once = replace(pours, pour_h_per_mm=0.0)
    (first,) = (
        one for one in windows(found_by(at_once, lambda mm, m: mm), at_once) if one.starts_at == FIRST
    )
    assert (first.coat_mm, first.frozen_by.middle) == (10.0, FIRST + 10 * HOUR)


@pytest.mark.parametrize(("minutes", "coat_mm"), [(240, 8.0), (120, 4.0), (119, 3.0), (30, 1.0), (10, 1.0)])
def test_no_flood_takes_longer_at_the_hose_than_the_rule_says_but_the_thinnest(
    minutes: int, coat_mm: float
) -> None:
    # Half an hour a millimetre: 2 hours are 4 mm. A millimetre is tried however slow the hose.
    asked = terms(pour_h_per_mm=0.5, rules={"flood_longest_minutes": minutes})
    found = windows(found_by(asked, lambda mm, m: 0.1 * mm), asked)
    assert {one.coat_mm for one in found} == {coat_mm}


def test_a_coat_must_be_frozen_by_the_next_hour_of_opening_on_the_rinks_clock() -> None:
    asked = terms()
    assert asked.deadline(0) == dt.datetime(2026, 1, 16, 7, tzinfo=dt.UTC)  # 8 in the morning in Oslo
    assert asked.limit_h(0) == 14
    # 29 March 2026: the clocks go forward in the night; 8 o'clock is an hour sooner.
    spring = replace(asked, first_at=dt.datetime(2026, 3, 28, 17, tzinfo=dt.UTC))
    assert spring.limit_h(0) == 13


def test_the_thickest_likely_coat_of_each_start_is_offered_and_the_best_start_comes_first() -> None:
    asked = terms()
    ranked = windows(found_by(asked, lambda mm, m: mm * 2), asked)  # 6 mm takes 12 h
    assert ranked[0].coat_mm == 6.0
    assert ranked[0].starts_at == FIRST
    assert ranked[0].frozen_by.middle == FIRST + 12 * HOUR
    late = next(one for one in ranked if one.starts_at == FIRST + 5 * HOUR)  # 23 o'clock: 9 h are left
    assert late.coat_mm == 4.0
    assert [one.score for one in ranked] == sorted((one.score for one in ranked), reverse=True)
    # 72 hours from 18 o.clock hold four evenings: 17 o.clock of the fourth is the last hour
    assert len(by_night(ranked, OSLO)) == 4


def test_the_chance_counts_members_in_time_and_must_reach_the_rule() -> None:
    asked = terms()
    # 7 of 10 members freeze any coat at once, 3 never
    ranked = windows(found_by(asked, lambda mm, m: 1.0 if m < 7 else np.inf), asked)
    assert ranked == ()
    easier = replace(asked, rules=DEFAULTS | {"flood_chance_frac": 0.7})
    ranked = windows(found_by(easier, lambda mm, m: 1.0 if m < 7 else np.inf), easier)
    assert ranked[0].chance == 0.7
    assert ranked[0].frozen_by.high is None


def test_snow_rain_and_wind_rule_a_start_out_and_less_of_them_is_told() -> None:
    asked = terms()
    freeze = found_by(asked, lambda mm, m: 2.0)

    def first_hours(**change: Any) -> Terms:
        changed = tuple(replace(h, **change) if n < 2 else h for n, h in enumerate(asked.hours))
        return replace(asked, hours=changed)

    def offered(terms: Terms) -> list[Any]:
        return [one for one in windows(freeze, terms) if one.starts_at == FIRST]

    assert offered(asked)[0].spoilers == ()
    assert offered(first_hours(precip_mm=0.2)) == []  # 2 hours of 0.2 mm
    assert offered(first_hours(air_c=0.5)) == []
    later_rain = tuple(
        replace(h, precip_mm=1.0, air_c=1.5) if n == 1 else h for n, h in enumerate(asked.hours)
    )
    assert offered(replace(asked, hours=later_rain)) == []
    assert offered(first_hours(wind_ms=8.0)) == []
    assert offered(first_hours(precip_mm=0.1))[0].spoilers == ("snow",)
    assert offered(first_hours(sun_wm2=150.0))[0].spoilers == ("sun",)
    assert offered(first_hours(sun_wm2=150.0))[0].score < offered(asked)[0].score


@pytest.mark.parametrize(
    ("change", "freeze_h", "reason"),
    [
        ({}, np.inf, "warm"),
        ({"wind_ms": 9.0}, 1.0, "wind"),
        ({"precip_mm": 1.0}, 1.0, "snow"),
        ({"air_c": 0.5}, 1.0, "mild"),
    ],
)
def test_a_night_without_a_window_says_why(change: dict[str, float], freeze_h: float, reason: str) -> None:
    asked = terms()
    asked = replace(asked, hours=tuple(replace(hour, **change) for hour in asked.hours))
    tonight = (FIRST - 6 * HOUR, FIRST + 18 * HOUR)
    why = fault(found_by(asked, lambda mm, m: freeze_h), asked, tonight)
    assert why is not None
    assert why.reason == reason
    assert fault(found_by(terms(), lambda mm, m: 1.0), terms(), tonight) is None


def test_a_wet_coat_a_short_forecast_and_a_late_hour_are_reasons_too() -> None:
    tonight = (FIRST - 6 * HOUR, FIRST + 18 * HOUR)
    freeze = found_by(terms(), lambda mm, m: 1.0)
    wet = replace(freeze, wet_m=np.full(len(freeze.starts_h), 0.002))
    assert fault(wet, terms(), tonight).reason == "wet"  # type: ignore[union-attr]
    short = terms(count=6)
    assert fault(found_by(short, lambda mm, m: 1.0), short, tonight).reason == "short"  # type: ignore[union-attr]
    early = terms(rules={"flood_first_hour": 13, "flood_last_hour": 15})
    assert fault(found_by(early, lambda mm, m: 1.0), early, tonight).reason == "late"  # type: ignore[union-attr]


def test_what_was_learned_moves_hours_coat_and_chance() -> None:
    asked = terms()
    slow = replace(asked, factor=1.5)
    freeze = found_by(asked, lambda mm, m: mm * 2)
    # 14 h are there: 6 mm takes 12 h, and 18 h when it is slower by half; 4 mm then takes 12
    assert windows(freeze, asked)[0].coat_mm == 6.0
    assert windows(freeze, slow)[0].coat_mm == 4.0
    assert windows(freeze, slow)[0].frozen_by.middle == FIRST + 12 * HOUR
