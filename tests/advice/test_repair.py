"""Ways to repair: what the weather lets comes first, then what held here, then as charted."""

import pytest

from rinklog.advice.repair import WAYS, Past, Sunlit, Way, hot_mm, ways
from rinklog.advice.situation import TarpDay
from rinklog.survival.kaplan_meier import Spell as Held
from rinklog.work.models import Hazard
from tests.advice.scene import HOUR, NOW, hazard

COLD = Sunlit({"slush-pack": 3.0, "bucket-pour": 1.0, "hot-water-pour": 6.0}, NOW)
MILD = Sunlit({"slush-pack": float("inf"), "bucket-pour": 14.0, "hot-water-pour": float("inf")}, NOW)
SUNNY = TarpDay(NOW + 16 * HOUR, NOW + 20 * HOUR, melt_m=0.006)


def methods(found: list[Way]) -> list[str]:
    return [way.method for way in found]


def past(method: str, held: list[float], failed: bool = True, defect: str = "crack") -> list[Past]:
    return [Past(defect, method, Held(days, failed), 0.02, 25.0) for days in held]


def test_every_defect_in_the_ice_has_a_way() -> None:
    broken_things = {"liner", "board", "stake", "net", "light", "hose"}
    assert set(WAYS) == set(Hazard.Kind.values) - broken_things


def test_without_history_the_charts_order_stands_in_cold() -> None:
    found = ways(hazard(kind="crack"), COLD, [])
    assert methods(found) == ["slush-pack", "bucket-pour", "hot-water-pour"]
    assert all(way.feasible for way in found)
    assert {why.id for way in found for why in way.why} >= {"repair.tonight", "repair.little-history"}


def test_what_does_not_freeze_in_time_comes_last() -> None:
    bump = ways(hazard(kind="rut"), MILD, [])
    assert [way.feasible for way in bump] == [False, False]  # 14 h are more than a night
    mixed = Sunlit({"slush-pack": float("inf"), "bucket-pour": 2.0}, NOW)
    assert methods(ways(hazard(kind="rut"), mixed, [])) == ["bucket-pour", "slush-pack"]


def test_a_cover_is_for_sun_and_a_torch_for_any_weather() -> None:
    sunny = ways(hazard(), Sunlit({}, NOW, SUNNY), [])
    assert next(way for way in sunny if way.method == "tarp-melt").feasible is True
    dull = ways(hazard(), Sunlit({}, NOW, None), [])
    assert methods(dull)[-1] == "tarp-melt"
    assert dull[-1].feasible is False
    unknown = ways(hazard(), Sunlit({}, weather_known=False), [])
    assert next(way for way in unknown if way.method == "tarp-melt").feasible is None


def test_what_held_on_this_rink_goes_before_what_did_not() -> None:
    # 5 bucket pours held 10 days and more; 5 slush packs were back after a day
    told = past("bucket-pour", [10.0] * 5, failed=False) + past("slush-pack", [1.0] * 5)
    found = ways(hazard(kind="crack"), COLD, told)
    assert methods(found) == ["bucket-pour", "hot-water-pour", "slush-pack"]
    said = {way.method: {why.id: why for why in way.why} for way in found}
    assert said["bucket-pour"]["repair.held"].values["held"] == ("chance", 1.0)
    assert said["slush-pack"]["repair.held"].values["held"] == ("chance", 0.0)
    assert "repair.little-history" in said["hot-water-pour"]


def test_four_repairs_are_too_few_and_other_defects_do_not_count() -> None:
    told = past("slush-pack", [1.0] * 4) + past("slush-pack", [1.0] * 9, defect="rut")
    assert methods(ways(hazard(kind="crack"), COLD, told))[0] == "slush-pack"


def test_water_and_minutes_are_what_it_took_here() -> None:
    (way, *_rest) = ways(hazard(kind="crack"), COLD, past("slush-pack", [4.0], failed=False))
    assert (way.water_m3, way.minutes) == (0.02, 25.0)


def test_hot_water_leaves_itself_and_what_it_melts() -> None:
    # 10 kg at 60 °C on ice at 0 °C: 4.2 kJ/kg/K · 60 / 333.4 kJ/kg = 0.756 kg a kg
    assert hot_mm() == pytest.approx(17.56, abs=0.1)


def test_ways_go_through_json_and_back() -> None:
    import json

    for way in ways(hazard(kind="crack"), COLD, []):
        assert Way.from_json(json.loads(json.dumps(way.to_json()))) == way
