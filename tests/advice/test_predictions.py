"""Predictions kept with floods, and what is made of what people saw. Times and hours are worked out by hand."""

import datetime as dt
from typing import Any
from uuid import uuid4

import pytest

from rinklog.advice.items import FrozenBy, Window
from rinklog.advice.models import Advice, Prediction
from rinklog.advice.outcomes import judged
from rinklog.advice.queries import record
from rinklog.advice.services import keep_predictions, read_off
from rinklog.work.entry_events import add_event
from rinklog.work.services import withdraw_entry
from tests.support.cast import Cast
from tests.support.winter import at

START = at(12, 19)
MADE = at(12, 17)
HOUR = dt.timedelta(hours=1)
CURVE = ((2.0, 1.0, 1.5, 2.0, 1.0), (4.0, 3.0, 4.0, 6.0, 0.9), (8.0, 8.0, 10.0, None, 0.5))


def a_window(start: dt.datetime = START) -> Window:
    return Window(
        id=f"{start:%Y%m%dT%H}", starts_at=start, coat_mm=4.0, chance=0.9, deadline=START + 12 * HOUR,
        frozen_by=FrozenBy(start + 3 * HOUR, start + 4 * HOUR, start + 6 * HOUR), curve=CURVE, score=3.6,
    )  # fmt: skip


@pytest.fixture
def advised(cast: Cast) -> Cast:
    windows = [a_window(START + n * HOUR).to_json() for n in (-2, 0, 2)]
    Advice.objects.create(rink=cast.rink, made_at=MADE, fingerprint="x", windows=windows)
    return cast


def flooded(cast: Cast, coat_mm: float = 4.0, start: dt.datetime = START, **more: Any) -> Any:
    """A flood of a coat over the first two zones."""
    area_m2 = sum(zone.area_m2 for zone in cast.zones[:2])
    return cast.flood(now=start, water_m3=coat_mm / 1000 * area_m2, **more)


def test_a_flood_in_a_window_keeps_what_was_said_of_it(advised: Cast) -> None:
    entry = flooded(advised, start=START + HOUR / 2)
    assert keep_predictions(rink=advised.rink, now=START + HOUR) == 1
    assert keep_predictions(rink=advised.rink, now=START + HOUR) == 0
    kept = Prediction.objects.get(root=entry)
    assert kept.window["id"] == "20260112T19"
    assert (kept.low_h, kept.middle_h, kept.high_h) == pytest.approx((3.0, 4.0, 6.0))
    assert kept.chance == pytest.approx(0.9)
    assert kept.made_at == MADE


def test_a_flood_outside_every_window_or_before_the_advice_has_none(advised: Cast) -> None:
    flooded(advised, start=START + 4 * HOUR)
    flooded(advised, start=MADE - HOUR / 2)
    assert keep_predictions(rink=advised.rink, now=START + 9 * HOUR) == 0


def test_advice_that_was_made_after_the_flood_began_is_not_its_prediction(cast: Cast) -> None:
    entry = flooded(cast)
    Advice.objects.create(
        rink=cast.rink, made_at=START + HOUR / 4, fingerprint="x", windows=[a_window().to_json()]
    )
    assert keep_predictions(rink=cast.rink, now=START + HOUR) == 0
    assert not Prediction.objects.filter(root=entry).exists()


def test_another_coat_is_read_off_the_curve() -> None:
    # half way between 2 and 4 mm
    assert read_off(a_window(), 3.0) == pytest.approx((2.0, 2.75, 4.0, 0.95))
    # thinner than the thinnest: in a line down to nothing
    assert read_off(a_window(), 1.0)[:3] == pytest.approx((0.5, 0.75, 1.0))
    # between a coat with a high end in sight and one without
    assert read_off(a_window(), 6.0)[2] is None
    assert read_off(a_window(), 20.0)[1] is None


def test_a_tap_that_names_a_time_is_a_time_and_one_of_the_morning_is_not(advised: Cast) -> None:
    timed, morning = flooded(advised), flooded(advised, by=advised.dag)
    keep_predictions(rink=advised.rink, now=START + HOUR)
    seen = START + 5 * HOUR
    add_event(id=uuid4(), entry=timed, what="frozen", by=advised.cleo, now=seen + HOUR, at=seen)
    tapped = START + 11 * HOUR
    add_event(id=uuid4(), entry=morning, what="frozen", by=advised.dag, now=tapped, at=tapped)
    said, floods = record(advised.rink)
    by_root = {one.prediction.root_id: one.outcome for one in floods}
    assert by_root[timed.root_id].took_h == pytest.approx(4.9)  # 5 h, known to 12 minutes
    assert by_root[morning.root_id].took_h is None
    assert (said.judged, said.hits, said.timed) == (2, 2, 1)
    assert said.bias_h == pytest.approx(0.9)


def test_inspections_say_wet_or_frozen_too_where_the_flood_was(advised: Cast) -> None:
    flooded(advised)
    keep_predictions(rink=advised.rink, now=START + HOUR)

    def look(hours: float, condition: str, zones: slice = slice(0, 2)) -> None:
        ids = tuple(zone.id for zone in advised.zones[zones])
        when = START + hours * HOUR
        advised.work("inspection", now=when, zone_ids=ids, conditions=dict.fromkeys(ids, condition))

    look(2.5, "good", slice(2, 4))  # elsewhere
    look(7, "wet")
    look(13, "good")
    (one,) = judged(advised.rink)
    assert (one.outcome.not_frozen_h, one.outcome.frozen_h) == (7.0, 13.0)
    assert one.outcome.hit is None  # frozen between 7 and 13 h; the deadline is at 12
    look(12.5, "wet")
    assert judged(advised.rink)[0].outcome.hit is False


def test_what_is_learned_later_does_not_reach_an_earlier_look_back(advised: Cast) -> None:
    entry = flooded(advised)
    keep_predictions(rink=advised.rink, now=START + HOUR)
    seen = START + 5 * HOUR
    add_event(id=uuid4(), entry=entry, what="frozen", by=advised.cleo, now=seen + HOUR, at=seen)
    (before,) = judged(advised.rink, known_at=seen)
    assert before.outcome.frozen_h is None
    assert judged(advised.rink, known_at=START) == []


def test_a_withdrawn_flood_is_not_judged(advised: Cast) -> None:
    entry = flooded(advised)
    keep_predictions(rink=advised.rink, now=START + HOUR)
    withdraw_entry(id=uuid4(), entry=entry, reason="not here", by=advised.cleo, now=START + HOUR)
    assert judged(advised.rink) == []


def test_a_flood_just_recorded_costs_the_same_however_many_stand_without_a_prediction(
    advised: Cast, django_assert_num_queries: Any
) -> None:
    """A phone that was away for days sends hundreds: none may look at all the others."""
    for minutes in (10, 20, 30):
        flooded(advised, start=START + dt.timedelta(minutes=minutes))
    last = flooded(advised, start=START)
    with django_assert_num_queries(4):  # the flood, times of advice, one advice, the row
        assert keep_predictions(rink=advised.rink, now=START + 9 * HOUR, root=last.root_id) == 1
    assert Prediction.objects.get().root_id == last.root_id


def test_advice_is_read_once_for_all_floods_that_fell_into_it(
    advised: Cast, django_assert_num_queries: Any
) -> None:
    for minutes in range(0, 50, 5):
        flooded(advised, start=START + dt.timedelta(minutes=minutes))
    with django_assert_num_queries(4):
        assert keep_predictions(rink=advised.rink, now=START + HOUR) == 10
