"""What speaks for closing, and the grade by stated criteria: published values, one step to either side."""

import datetime as dt

import pytest

from rinklog.advice.closing import Reason, reasons
from rinklog.advice.grading import EXCELLENT, FAIR, GOOD, Look, grade
from tests.advice.scene import DEFAULTS, FULL_HOUR, HOUR, NOW, exactly, hours, scene, zone


def keys(**known: object) -> list[str]:
    return [one.key for one in reasons(scene(**known))]


@pytest.mark.parametrize(
    ("air_c", "expected"), [(-20.1, ["cold"]), (-20.0, []), (0.0, []), (0.1, ["warm"]), (-8.0, [])]
)
def test_ritchie_closes_below_twenty_and_above_zero(air_c: float, expected: list[str]) -> None:
    # Ritchie league, Edmonton: −20.1 °C closed, −20.0 open; +0.1 closed.
    assert keys(hours=hours([air_c, *[-8.0] * 71])) == expected


def test_a_wet_zone_and_a_thin_one_are_named_with_their_amounts() -> None:
    zones = (zone(1, wet_m=exactly(0.004)), zone(2, thickness_m=exactly(0.08)), zone(3))
    assert reasons(scene(zones=zones)) == [
        Reason("wet", 0.004, 0.0005, ("A1",)),
        Reason("thin", 0.08, DEFAULTS["skate_thickness_m"], ("A2",)),
    ]


def test_ice_as_thick_as_the_rule_is_not_thin() -> None:
    assert keys(zones=(zone(1, thickness_m=exactly(0.10)),)) == []
    assert keys(zones=(zone(1, thickness_m=exactly(0.0999)),)) == ["thin"]


def test_seven_mild_hours_within_a_day_speak_for_closing_and_six_do_not() -> None:
    # Glabar Park, Ottawa: close after 7 hours above 0 °C.
    def thaw(count: int, first: int = 10) -> list[str]:
        return keys(hours=hours([*[-8.0] * first, *[0.5] * count, *[-8.0] * 60]))

    assert thaw(7) == ["thaw"]
    assert thaw(6) == []
    assert thaw(7, first=30) == []  # tomorrow evening is early enough


def test_where_nothing_is_known_nothing_speaks() -> None:
    bare = zone(1, thickness_m=None, wet_m=None, snow_m=None)
    assert keys(zones=(bare,), hours=()) == []
    assert keys(zones=(bare,), hours=hours([0.5], first=FULL_HOUR - 5 * HOUR)) == []


@pytest.mark.parametrize(
    ("flawed", "snow", "ice_m", "expected"),
    [
        (0.09, False, 0.10, EXCELLENT),
        (0.10, False, 0.10, GOOD),
        (0.50, False, 0.10, GOOD),
        (0.51, False, 0.10, FAIR),
        (0.00, True, 0.15, FAIR),
        (0.05, False, 0.099, GOOD),
        (0.05, False, None, GOOD),
    ],
)
def test_grades_follow_napervilles_criteria(
    flawed: float, snow: bool, ice_m: float | None, expected: int
) -> None:
    assert grade(flawed, snow=snow, thinnest_m=ice_m) == expected


def test_a_look_counts_flaws_by_area() -> None:
    look = Look(NOW, {"good": 91.0, "rough": 5.0, "cracked": 4.0}, 0.12)
    assert look.flawed_frac == pytest.approx(0.09)
    assert (look.grade, look.snow, look.shut) == (EXCELLENT, False, False)
    assert Look(NOW - dt.timedelta(hours=1), {"good": 99.0, "wet": 1.0}, 0.12).shut
    assert Look(NOW, {"snow": 1.0, "good": 99.0}, 0.12).grade == FAIR
    assert Look(NOW, {}).flawed_frac == 0.0
