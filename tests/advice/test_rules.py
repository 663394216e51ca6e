"""What the rules say of a situation, and that they hold their tongue when there is nothing to say."""

import datetime as dt
from dataclasses import replace

import pytest

from rinklog.advice.items import FrozenBy, Item, Window
from rinklog.advice.rules import advice
from rinklog.advice.situation import HoleAsked, HourAhead, NightFault, SnowLoss, TarpDay
from tests.advice.scene import DEFAULTS, HOUR, NOW, exactly, hazard, hours, item, scene, whys, window, zone


def snowing(until: int, mm: float = 1.0, air_c: float = -4.0) -> tuple[HourAhead, ...]:
    return tuple(replace(hour, precip_mm=mm if n < until else 0.0) for n, hour in enumerate(hours(air_c)))


def test_a_flood_says_how_long_the_hose_runs_or_that_nobody_knows() -> None:
    told = scene(windows=(window(coat_mm=4.0, pour_h_per_mm=0.5),), hose_m3s=0.0005)
    hose = next(why for why in item("flood", told).why if why.id == "flood.hose")  # type: ignore[union-attr]
    # 2 h at half a litre a second are 3.6 m³
    assert dict(hose.values) == {"hours": ("time", 2.0), "water": ("water", pytest.approx(3.6))}
    assert "flood.hose-unknown" in whys(item("flood", scene(windows=(window(),))))


def test_a_quiet_cold_evening_asks_for_no_more_than_holes() -> None:
    assert {one.key for one in advice(scene())} == {"machines-barred"}


def test_the_most_urgent_comes_first() -> None:
    said = advice(
        scene(
            hazards=(hazard(severity="danger"),),
            windows=(window(),),
            zones=(zone(snow_m=exactly(0.04)), zone(2, wears=True)),
        )
    )
    assert [one.urgency for one in said] == sorted((one.urgency for one in said), reverse=True)
    assert said[0].key == "cone-7"


def test_snow_is_cleared_before_the_flood_of_tonight() -> None:
    clear = item("snow-clear", scene(zones=(zone(snow_m=exactly(0.02)),), windows=(window(),)))
    assert clear is not None
    assert clear.say.values["by"] == ("moment", window().starts_at.isoformat())
    assert "snow.before-flood" in whys(clear)


def test_while_snow_falls_it_is_waited_for_and_not_cleared() -> None:
    # RIT: wait till it stops. It falls in the hours of 17, 18, 19 and 20 UTC.
    said = scene(zones=(zone(snow_m=exactly(0.03)),), hours=snowing(4))
    assert item("snow-clear", said) is None
    wait = item("snow-wait", said)
    assert wait is not None
    assert wait.say.values["stops"] == ("moment", NOW.replace(hour=21, minute=0).isoformat())
    # From 17:00 on, 4 hours of 1 mm
    assert wait.why[0].values["water"] == ("rain", pytest.approx(0.004))


def test_snow_is_left_on_before_freezing_rain() -> None:
    # LYN
    rain = [replace(hour, precip_mm=1.0 if 5 <= n < 8 else 0.0) for n, hour in enumerate(hours(1.0))]
    said = scene(zones=(zone(snow_m=exactly(0.02)),), hours=tuple(rain))
    assert item("snow-clear", said) is None
    leave = item("snow-left-on", said)
    assert leave is not None
    # At 1 °C half falls as rain: 3 hours of 0.5 mm.
    assert leave.say.values["rain"] == ("rain", pytest.approx(0.0015))
    assert item("snow-left-on", scene(hours=tuple(rain))) is None


def test_slush_is_spoken_of_only_where_water_remains_beneath() -> None:
    # Archimedes: 0.05 m of ice carries 0.05·83/120 = 0.0346 m of snow at 120 kg/m³
    afloat = zone(thickness_m=exactly(0.05), snow_m=exactly(0.035), water_under_m=0.1)
    assert "snow.slush" in whys(item("snow-clear", scene(zones=(afloat,))))
    for other in (replace(afloat, snow_m=exactly(0.034)), replace(afloat, water_under_m=0.0)):
        assert "snow.slush" not in whys(item("snow-clear", scene(zones=(other,))))


def test_the_loss_in_hours_of_freezing_is_the_one_that_was_computed() -> None:
    loss = SnowLoss(NOW + 24 * HOUR, bare_m=0.012, snowed_m=0.004, hours=15.5)
    clear = item("snow-clear", scene(zones=(zone(snow_m=exactly(0.05)),), snow_loss=loss))
    assert clear is not None
    (said,) = [why for why in clear.why if why.id == "snow.costs"]
    assert said.values["hours"] == ("time", 15.5)


def test_a_flood_says_when_how_thick_and_how_likely() -> None:
    flood = item("flood", scene(windows=(window(spoilers=("wind",)),)))
    assert flood is not None
    assert flood.say.values["coat"] == ("coat", 0.004)
    assert flood.say.values["chance"] == ("chance", 0.9)
    assert flood.act is not None
    assert flood.act.query == {"window": "w1"}
    assert {"flood.spoiler", "flood.band"} <= whys(flood)


def test_a_window_of_tomorrow_is_not_tonight() -> None:
    tomorrow = window(starts_at=NOW + 25 * HOUR)
    said = scene(windows=(tomorrow,), fault=NightFault("wind", NOW, 2.0, 0.1, -8.0, amount=9.0))
    none = item("not-tonight", said)
    assert whys(none) == {"flood.not-wind", "flood.next"}
    assert item("flood", said) is None


def test_nothing_is_said_of_floods_when_the_rink_is_shut_or_the_weather_unknown() -> None:
    assert item("flood", scene(windows=(window(),), phase="shut")) is None
    assert item("not-tonight", scene(hours=())) is None


@pytest.mark.parametrize(
    ("air_c", "expected", "absent"),
    [
        (-6.0, {"flood.too-warm-by-rule", "flood.warm-enough-elsewhere"}, {"flood.minutes-by-rule"}),
        (-4.0, {"flood.too-warm-by-rule"}, {"flood.warm-enough-elsewhere"}),
        (-7.0, set(), {"flood.too-warm-by-rule"}),  # QC: above −7 °C
        (-15.0, {"flood.minutes-by-rule"}, {"flood.too-warm-by-rule"}),  # EAG: 10-15 min in deep cold
        (-24.0, {"flood.too-cold-by-rule"}, {"flood.too-warm-by-rule"}),  # MPL: −23 °C
    ],
)
def test_rules_of_thumb_that_say_otherwise_stand_beside_the_physics(
    air_c: float, expected: set[str], absent: set[str]
) -> None:
    said = whys(item("flood", scene(windows=(window(),), hours=hours(air_c))))
    assert expected <= said
    assert not absent & said


def test_the_rule_of_thumb_that_would_flood_is_shown_when_the_physics_would_not() -> None:
    fault = NightFault("warm", NOW, 1.0, 0.4, -8.0)
    assert "flood.rule-would" in whys(item("not-tonight", scene(fault=fault)))
    mild = replace(fault, air_c=-3.0)
    assert "flood.rule-would" not in whys(item("not-tonight", scene(fault=mild)))


def test_covers_are_for_what_stands_up_and_for_sun_that_melts() -> None:
    day = TarpDay(NOW + 16 * HOUR, NOW + 20 * HOUR, melt_m=0.006)
    assert item("tarp", scene(tarp=day)) is None
    assert item("tarp", scene(tarp=day, hazards=(hazard(kind="crack"),))) is None
    assert item("tarp", scene(tarp=replace(day, melt_m=0.0019), hazards=(hazard(),))) is None
    tarp = item("tarp", scene(tarp=day, hazards=(hazard(),)))
    assert tarp is not None
    assert tarp.say.values["melt"] == ("depth", 0.006)


def test_a_hazard_without_a_cone_and_one_that_waits_too_long() -> None:
    old = hazard(found_at=NOW - dt.timedelta(days=3), cone_out=True)
    assert {one.key for one in advice(scene(hazards=(old,)))} >= {"open-7"}
    assert item("cone-7", scene(hazards=(old,))) is None
    assert item("open-7", scene(hazards=(hazard(),))) is None
    assert item("cone-7", scene(hazards=(hazard(),))) is not None
    # Repaired and holding: nothing to mark and nothing to wait for.
    assert item("cone-7", scene(hazards=(hazard(state="holding"),))) is None


def test_a_wet_coat_keeps_people_off_until_it_is_frozen() -> None:
    wet = zone(wet_m=exactly(0.002))
    dry_at = NOW + 3 * HOUR
    known = item("wet-coat", scene(zones=(wet,), wet_until={1: dry_at}))
    assert "wet.until" in whys(known)
    assert "wet.not-in-sight" in whys(item("wet-coat", scene(zones=(wet,))))
    assert item("wet-coat", scene(zones=(zone(wet_m=exactly(0.0004)),))) is None


def test_a_hole_that_seems_impossible_is_asked_about() -> None:
    asked = HoleAsked("e1", "A1", measured_m=0.9, expected_m=0.1)
    one = item("question-e1", scene(questions=(asked,)))
    assert whys(one) == {"question.expected"}
    many = [
        said
        for said in advice(scene(questions=(asked, replace(asked, entry_id="e2"))))
        if "question" in said.key
    ]
    assert [said.key for said in many] == ["question-e1"]
    assert many[0].why[1].values["others"] == ("count", 1)


def test_advice_never_calls_ice_safe() -> None:
    from rinklog.advice.sentences import SENTENCES

    assert [id for id, text in SENTENCES.items() if "safe" in str(text).lower()] == []


def test_items_and_windows_go_through_json_and_back() -> None:
    import json

    for one in advice(scene(windows=(window(),), hazards=(hazard(),), zones=(zone(snow_m=exactly(0.04)),))):
        assert Item.from_json(json.loads(json.dumps(one.to_json()))) == one
    kept = window(frozen_by=FrozenBy(NOW, NOW + HOUR, None), curve=((1.0, 0.5, 1.0, None, 0.9),))
    assert Window.from_json(json.loads(json.dumps(kept.to_json()))) == kept


def test_every_rule_a_rule_reads_is_in_the_published_table() -> None:
    assert {"flood_warmest_c", "snow_clear_m", "wear_days", "opens_hour"} <= set(DEFAULTS)
