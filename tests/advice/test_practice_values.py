"""The published check values of the rules (issuer beside each), tried at both sides of every limit."""

import datetime as dt

import pytest

from rinklog.advice.situation import HoleNow
from tests.advice.scene import HOUR, NOW, exactly, hours, item, scene, whys, zone

TODAY = NOW.replace(hour=0, minute=0)


@pytest.mark.parametrize(("air_c", "due"), [(-4.9, True), (-5.1, False)])
def test_a_thickness_check_is_due_on_a_mild_day(air_c: float, due: bool) -> None:
    # HAL, insurer's rules, Highlands East ON 2017: daily above −5 °C
    assert (item("thickness-check", scene(hours=hours(air_c))) is not None) is due


def test_a_hole_of_today_ends_the_daily_check() -> None:
    drilled = (HoleNow(NOW - HOUR, "A1", 0.12),)
    assert item("thickness-check", scene(hours=hours(-4.0), holes=drilled)) is None


def test_a_marked_warming_asks_for_a_check_even_in_the_cold() -> None:
    # −20 to −11: 9 K within a day; below −5 °C all the time, so the daily rule is silent
    series = hours([-20.0] * 12 + [-11.0] * 60, first=NOW - 20 * HOUR)
    assert "check.warming" in whys(item("thickness-check", scene(hours=series)))
    slight = hours([-20.0] * 12 + [-13.0] * 60, first=NOW - 20 * HOUR)
    assert item("thickness-check", scene(hours=slight)) is None


@pytest.mark.parametrize(
    ("counted_mm", "allowed"),
    [
        ((101.6, 101.6, 101.6), True),  # NAP: 101.6 mm in every one of 3 holes
        ((101.6, 120.0, 95.0), False),  # one at 95
        ((150.0, 150.0), False),  # 2 holes
        ((101.5, 120.0, 120.0), False),
        ((), False),
    ],
)
def test_machines_need_enough_ice_in_every_one_of_enough_holes(
    counted_mm: tuple[float, ...], allowed: bool
) -> None:
    holes = tuple(HoleNow(NOW - HOUR, "A1", mm / 1000) for mm in counted_mm)
    said = scene(holes=holes)
    assert (item("machines-met", said) is not None) is allowed
    assert (item("machines-barred", said) is None) is allowed


def test_holes_from_before_it_was_mild_count_no_longer() -> None:
    # NAP: re-check above −1 °C
    holes = tuple(HoleNow(NOW - 20 * HOUR, "A1", 0.15) for _ in range(3))
    mild = hours([-10.0] * 10 + [-0.9] * 2 + [-10.0] * 60, first=NOW - 20 * HOUR)
    cold = hours([-10.0] * 10 + [-1.1] * 2 + [-10.0] * 60, first=NOW - 20 * HOUR)
    assert item("machines-met", scene(holes=holes, hours=cold)) is not None
    assert item("machines-barred", scene(holes=holes, hours=mild)) is not None


@pytest.mark.parametrize(("snow_m", "tool"), [(0.029, "scraper"), (0.030, "machines")])
def test_snow_is_scraped_or_cleared_with_machines_by_its_depth(snow_m: float, tool: str) -> None:
    # AQLM: 2.9 cm scrape, 3.0 cm blower
    clear = item("snow-clear", scene(zones=(zone(snow_m=exactly(snow_m)),)))
    assert clear is not None
    (said,) = [why for why in clear.why if why.id == "snow.tool"]
    assert said.values["tool"] == ("word", tool)


@pytest.mark.parametrize(("warm_hours", "warned"), [(7, True), (6, False), (2, False)])
def test_seven_hours_above_freezing_are_a_thaw_and_two_are_not(warm_hours: int, warned: bool) -> None:
    # GLA: 7 h above 0 yes, 1-2 h no
    series = hours([-3.0] * 10 + [1.0] * warm_hours + [-3.0] * 50)
    assert (item("thaw", scene(hours=series)) is not None) is warned


def test_worn_zones_are_due_when_their_days_are_over() -> None:
    # Ontario court 1995: at each day's end
    def goal(hours_ago: float) -> object:
        return zone(wears=True, poured_at=NOW - dt.timedelta(hours=hours_ago))

    assert item("wear", scene(zones=(goal(25),))) is not None
    assert item("wear", scene(zones=(goal(23),))) is None
    assert item("wear", scene(zones=(zone(wears=False),))) is None
