"""What each kind of work refuses, and that a refusal names its field and writes nothing. Rules: the issue, point 3."""

import datetime as dt
from uuid import uuid4

import pytest

from rinklog.work.errors import Refused
from rinklog.work.models import Entry
from tests.support.cast import NOW, Cast

KINDS = ["flood", "snow-removal", "patch", "torch-repair", "tarp-melt", "inspection", "drill-hole"]
FLOOD = {"by": "amount", "water": "cold", "tool": "hose"}
TORCH = {"flame_minutes": 12.0, "fuel": "propane", "second_person": "Dag"}
METER = {"by": "meter", "water": "cold", "tool": "hose"}


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_is_recorded_with_just_what_it_needs(cast: Cast, kind: str) -> None:
    entry = cast.work(kind)
    assert Entry.objects.get().kind == kind
    assert entry.is_open == (kind == "tarp-melt")


@pytest.mark.parametrize(
    ("kind", "content", "field", "words"),
    [
        ("flood", {"zone_ids": ()}, "zones", "none is picked"),
        ("flood", {"water_m3": None}, "amount", "Water is empty"),
        ("flood", {"details": {"by": "guess", "water": "cold", "tool": "hose"}}, "by", "allowed are amount"),
        ("flood", {"details": FLOOD | {"colour": "blue"}}, "colour", "not part of this kind"),
        (
            "flood",
            {"details": METER | {"meter_before_m3": 9.0, "meter_after_m3": 5.0}},
            "meter_after_m3",
            "less",
        ),
        ("flood", {"details": METER | {"meter_before_m3": 5.0, "meter_after_m3": 9.0}}, "amount", "readings"),
        ("snow-removal", {"details": {}}, "tools", "Tools is needed"),
        ("snow-removal", {"details": {"tools": ["rake"]}}, "tools", "“rake”"),
        (
            "snow-removal",
            {"details": {"tools": ["shovel"], "snow_depth_m": 3}},
            "snow_depth_m",
            "allowed is 0 to 2",
        ),
        ("snow-removal", {"water_m3": 0.1}, "amount", "takes no water"),
        ("snow-removal", {"hazard_ids": (uuid4(),)}, "hazards", "nothing about hazards"),
        ("patch", {"details": {}}, "method", "Method is needed"),
        ("patch", {"details": {"method": "scrape"}, "water_m3": 0.02}, "amount", "A scrape takes no water"),
        ("torch-repair", {"details": TORCH | {"second_person": " "}}, "second_person", "is needed"),
        ("torch-repair", {"details": TORCH | {"flame_minutes": None}}, "flame_minutes", "is needed"),
        ("torch-repair", {"details": TORCH | {"fuel_kg": float("nan")}}, "fuel_kg", "Fuel used is nan"),
        ("tarp-melt", {"details": {}}, "cover", "Cover is needed"),
        ("inspection", {"zone_ids": (), "conditions": {}}, "zones", "nothing was looked at"),
        ("inspection", {"conditions": {}}, "condition", "The condition is empty"),
        ("drill-hole", {"details": {}}, "clear_ice_m", "Clear ice is needed"),
        ("drill-hole", {"zone_ids": ()}, "zones", "none is picked"),
    ],
)
def test_what_a_kind_cannot_do_without_is_refused_by_name(
    cast: Cast, kind: str, content: dict[str, object], field: str, words: str
) -> None:
    with pytest.raises(Refused, match=words) as refused:
        cast.work(kind, **content)
    assert refused.value.field == field
    assert not Entry.objects.exists()


def test_a_hole_is_in_exactly_one_zone(cast: Cast) -> None:
    two = tuple(zone.id for zone in cast.zones[:2])
    with pytest.raises(Refused, match="2 zones are picked"):
        cast.work("drill-hole", zone_ids=two)


def test_zero_is_an_answer(cast: Cast) -> None:
    hole = cast.work("drill-hole", details={"clear_ice_m": 0.1, "white_ice_m": 0.0, "water_below_m": 0.0})
    assert hole.details == {"clear_ice_m": 0.1, "white_ice_m": 0.0, "water_below_m": 0.0}


@pytest.mark.parametrize(
    ("change", "readings", "water_m3"),
    [
        # By hand: 12.5 − 10 = 2.5; 100 − 99.2 + 1.3 = 2.1; (50.4 − 50) + (1.6 − 0.1) = 1.9.
        ({}, {"meter_before_m3": 10.0, "meter_after_m3": 12.5}, 2.5),
        (
            {"meter_change": "rolled-over", "meter_rolls_at_m3": 100.0},
            {"meter_before_m3": 99.2, "meter_after_m3": 1.3},
            2.1,
        ),
        (
            {"meter_change": "replaced", "meter_old_end_m3": 50.4, "meter_new_start_m3": 0.1},
            {"meter_before_m3": 50.0, "meter_after_m3": 1.6},
            1.9,
        ),
    ],
)
def test_a_meter_that_rolled_over_or_was_replaced_still_gives_the_water(
    cast: Cast, change: dict[str, object], readings: dict[str, float], water_m3: float
) -> None:
    entry = cast.flood(water_m3=water_m3, details=METER | change | readings)
    assert entry.water_m3 == water_m3
    with pytest.raises(Refused, match="readings"):
        cast.flood(water_m3=water_m3 + 0.5, details=METER | change | readings)


def test_work_may_cross_new_year_and_a_clock_change(cast: Cast) -> None:
    # Oslo: clocks go from 2:00 to 3:00 on 29 March 2026 at 01:00 UTC (IANA tzdata, Europe/Oslo).
    for start, end, minutes in (
        ("2025-12-31T22:30+00:00", "2026-01-01T00:30+00:00", 120),
        ("2026-03-29T01:30+01:00", "2026-03-29T03:30+02:00", 60),
    ):
        started, ended = dt.datetime.fromisoformat(start), dt.datetime.fromisoformat(end)
        entry = cast.flood(started_at=started, ended_at=ended, now=ended)
        assert (entry.ended_at - entry.started_at) == dt.timedelta(minutes=minutes)
        assert entry.season == cast.season


def test_an_end_before_the_start_is_refused(cast: Cast) -> None:
    with pytest.raises(Refused, match="The end is before the start"):
        cast.flood(ended_at=NOW - dt.timedelta(minutes=1))
