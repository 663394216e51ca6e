"""What each kind of work does to the ice: pure, from entries as told to deeds."""

import datetime as dt
from typing import Any
from uuid import uuid4

import numpy as np
import pytest
from scipy.optimize import brentq

from rinklog.ice.deeds import Told, deeds, holes, looks
from rinklog.ice.filling import levelled_m
from rinklog.ice.inputs import Ground

AT = dt.datetime(2026, 1, 9, 20, tzinfo=dt.UTC)
FLAT = (Ground(1, 25.0, None, 0.0), Ground(2, 15.0, None, 0.0))


def told(kind: str, *, minutes: float = 0, zones: dict[int, float] | None = None, **more: Any) -> Told:
    """One entry on both zones, 40 m²."""
    areas = zones or {0: 25.0, 1: 15.0}
    ended = AT + dt.timedelta(minutes=minutes) if minutes else None
    return Told(uuid4(), kind, AT, ended, areas, sum(areas.values()), **more)


def test_a_flood_is_its_water_over_its_area_at_its_middle() -> None:
    (one,) = deeds([told("flood", minutes=40, water_m3=0.2)], FLAT, (0, 0))
    assert one.at == AT + dt.timedelta(minutes=20)
    assert one.amounts == pytest.approx({0: 5.0, 1: 5.0})  # 0.2 m³ on 40 m² is 5 mm, 5 kg/m²
    assert one.water_c == 5.0


def test_a_long_flood_comes_in_pieces_and_loses_no_water() -> None:
    found = deeds([told("flood", minutes=150, water_m3=0.2)], FLAT, (0, 0))
    assert [one.at for one in found] == [AT + dt.timedelta(minutes=m) for m in (25, 75, 125)]
    assert sum(one.amounts[0] for one in found) == pytest.approx(5.0)


def test_a_fill_finds_its_level_over_the_surveyed_floor() -> None:
    ground = (Ground(1, 25.0, 0.20, 0.0), Ground(2, 15.0, 0.10, 0.0))
    (one,) = deeds([told("flood", water_m3=2.0)], ground, (0, 0))
    # By hand: 25 m² fill 10 cm before the other 15 m² get wet, 2.5 m³: all of 2 m³ stands in the deep zone, 8 cm.
    assert one.amounts == pytest.approx({0: 80.0})
    (more,) = deeds([told("flood", water_m3=4.5)], ground, (0, 0))
    # 2.5 m³ to the level of the shallow floor, the other 2 m³ over 40 m²: 5 cm everywhere.
    assert more.amounts == pytest.approx({0: 150.0, 1: 50.0})


def test_a_level_is_where_an_equation_solver_finds_it() -> None:
    draw = np.random.default_rng(5)
    areas, floors = draw.uniform(5, 30, 9), draw.uniform(-0.3, 0.0, 9)
    for volume in (0.5, 3.0, 20.0):
        level = brentq(
            lambda z, v=volume: float((areas * np.maximum(z - floors, 0)).sum()) - v, -1, 2, xtol=1e-13
        )
        np.testing.assert_allclose(
            levelled_m(volume, areas, floors), np.maximum(level - floors, 0), atol=1e-9
        )


def test_the_same_words_under_another_id_are_the_same_deed() -> None:
    assert told("flood", water_m3=0.2).key == told("flood", water_m3=0.2).key
    assert told("flood", water_m3=0.2).key != told("flood", water_m3=0.21).key


def test_hot_water_is_hot_and_a_scrape_is_nothing() -> None:
    poured = told("patch", water_m3=0.04, details={"method": "hot-water-pour"})
    assert [(one.water_c, one.amounts[0]) for one in deeds([poured], FLAT, (0, 0))] == [
        (60.0, pytest.approx(1.0))
    ]
    assert deeds([told("patch", details={"method": "scrape"})], FLAT, (0, 0)) == []


def test_a_torch_brings_three_tenths_of_its_fuel_to_the_zones() -> None:
    # 1 kg of propane at 46.35 MJ/kg, 0.30 of it on 40 m²: 347.6 kJ/m² (and it melts 41.7 kg in all: reference table).
    (one,) = deeds([told("torch-repair", details={"fuel_kg": 1.0, "flame_minutes": 9.0})], FLAT, (0, 0))
    assert one.amounts[0] == pytest.approx(347_625)
    assert one.amounts[0] * 40 / 333_400 == pytest.approx(41.7, abs=0.05)


def test_a_cover_lies_until_it_is_lifted() -> None:
    lifted = AT + dt.timedelta(hours=5)
    found = deeds([told("tarp-melt", lifted_at=lifted)], FLAT, (0, 0))
    assert [(one.what, one.at) for one in found] == [("lay-cover", AT), ("lift-cover", lifted)]
    assert [one.what for one in deeds([told("tarp-melt")], FLAT, (0, 0))] == ["lay-cover"]


def test_a_hole_is_clear_and_white_ice_together() -> None:
    (one,) = holes([told("drill-hole", zones={1: 15.0}, details={"clear_ice_m": 0.08, "white_ice_m": 0.02})])
    assert (one.zone, one.ice_m) == (1, pytest.approx(0.10))


def test_an_inspection_says_what_it_saw_and_nothing_of_the_rest() -> None:
    seen = told("inspection", conditions={0: "wet", 1: "worn"})
    assert [(one.zone, one.wet, one.snow) for one in looks([seen])] == [(0, True, None)]
    dry = told("flood", water_m3=0.2, frozen_at=AT + dt.timedelta(hours=2))
    assert [(one.zone, one.wet) for one in looks([dry])] == [(0, False), (1, False)]
