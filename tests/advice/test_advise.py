"""Advice made from rows: what is stored, that it is made once, and what is said where nothing is known."""

import datetime as dt
import time
from uuid import uuid4

import pytest

from rinklog.advice import queries
from rinklog.advice.models import Advice, Prediction
from rinklog.advice.services import advise
from rinklog.ice.models import HoleQuestion
from rinklog.ice.services import project
from rinklog.work.entry_events import add_event
from tests.support.cast import Cast
from tests.support.hazards import put_up
from tests.support.winter import at, foretold

HOUR = dt.timedelta(hours=1)
NOW = at(12, 16, 20)  # 17:20 in Oslo


def keys(row: Advice) -> set[str]:
    return {item["key"] for item in row.items}


def test_a_cold_evening_has_windows_and_says_so(cold: Cast) -> None:
    project(rink=cold.rink, now=NOW)
    began = time.monotonic()
    row = advise(rink=cold.rink, now=NOW)
    took = time.monotonic() - began
    assert took < 60
    assert "flood" in keys(row)
    (best, *_rest) = queries.windows(cold.rink, NOW)
    assert best.starts_at >= NOW - dt.timedelta(minutes=30)
    assert best.frozen_by.middle is not None
    assert best.starts_at < best.frozen_by.middle <= best.deadline
    assert best.chance >= 0.8
    assert row.told["missing"] == ""


def test_the_same_inputs_make_no_second_row_and_new_ones_do(cold: Cast) -> None:
    project(rink=cold.rink, now=NOW)
    first = advise(rink=cold.rink, now=NOW)
    again = advise(rink=cold.rink, now=NOW + dt.timedelta(minutes=5))
    assert again.id == first.id
    hazard = put_up(cold, now=NOW, x_m=2.0, y_m=2.0)
    other = advise(rink=cold.rink, now=NOW + dt.timedelta(minutes=6))
    assert other.id != first.id
    assert f"cone-{hazard.id}" in keys(other)
    assert str(hazard.id) in other.repairs


def test_a_warm_forecast_turns_the_flood_into_not_tonight(cold: Cast) -> None:
    foretold(cold, at(12, 16), 5, air_c=4.0)
    project(rink=cold.rink, now=NOW)
    row = advise(rink=cold.rink, now=NOW)
    assert {"not-tonight", "thaw"} <= keys(row)
    assert queries.windows(cold.rink, NOW) == []


@pytest.mark.parametrize("missing", ["position", "weather", "season"])
def test_where_nothing_is_known_the_rest_is_still_said(cast: Cast, missing: str) -> None:
    put_up(cast, now=NOW, x_m=2.0, y_m=2.0)
    if missing == "position":
        cast.rink.latitude = cast.rink.longitude = None
        cast.rink.save()
    if missing == "season":
        cast.season.phases.all().delete()
        cast.rink.seasons.update(starts_on=dt.date(2027, 1, 1))
    row = advise(rink=cast.rink, now=NOW)
    assert row.told["missing"] == missing
    assert ("cone" in {key.partition("-")[0] for key in keys(row)}) is (missing != "season")
    assert row.windows == []


def test_what_earlier_floods_took_corrects_the_next_windows_visibly(cold: Cast) -> None:
    # Four floods predicted at 4 h that took 6 h: a ratio of 1.5, half believed, is √1.5.
    for n in range(4):
        start = at(8 + n, 19)
        entry = cold.flood(now=start, water_m3=0.02)
        Prediction.objects.create(
            root=entry, rink=cold.rink, made_at=start - HOUR, recorded_at=start, began_at=start, window={},
            coat_mm=4.0, low_h=3.0, middle_h=4.0, high_h=5.0, chance=0.9, deadline_at=start + 12 * HOUR,
        )  # fmt: skip
        seen = start + 6 * HOUR + dt.timedelta(minutes=6)
        add_event(id=uuid4(), entry=entry, what="frozen", by=cold.cleo, now=seen + HOUR, at=seen)
    project(rink=cold.rink, now=NOW)
    row = advise(rink=cold.rink, now=NOW)
    assert row.told["spoke"] == 4
    assert row.told["factor"] == pytest.approx(1.5**0.5, rel=0.01)
    assert {window["factor"] for window in row.windows} == {row.told["factor"]}
    flood = next(item for item in row.items if item["key"] == "flood")
    assert "flood.corrected" in {why["id"] for why in flood["why"]}


def test_holes_of_the_log_let_machines_on_and_one_that_is_asked_about_does_not_count(cast: Cast) -> None:
    # Naperville: three holes of 10 cm
    holes = [
        cast.work("drill-hole", now=NOW - n * HOUR, details={"clear_ice_m": 0.11, "white_ice_m": 0.01})
        for n in range(3)
    ]
    assert "machines-met" in keys(advise(rink=cast.rink, now=NOW))
    HoleQuestion.objects.create(
        entry=holes[0], rink=cast.rink, why="jump", ice_m=0.12, low_m=0.04, high_m=0.08, asked_at=NOW
    )
    row = advise(rink=cast.rink, now=NOW + HOUR)
    assert {"machines-barred", f"question-{holes[0].root_id}"} <= keys(row)


def test_worn_zones_hazards_and_rules_come_from_the_rows_of_this_rink(cast: Cast) -> None:
    cast.season.phases.create(
        id=uuid4(), phase="skating", on=dt.date(2026, 1, 6), by=cast.ada, recorded_at=NOW
    )
    goal = cast.zones[0]
    goal.wears = True
    goal.save()
    cast.flood(now=NOW - 3 * HOUR, zone_ids=(cast.zones[1].id,))
    assert "wear" in keys(advise(rink=cast.rink, now=NOW))
    cast.flood(now=NOW - 2 * HOUR, zone_ids=(goal.id,))
    assert "wear" not in keys(advise(rink=cast.rink, now=NOW + dt.timedelta(minutes=1)))
