"""Water that is not where it went, and ice that will not be there: by geometry and by degree-days worked out by hand."""

import pytest

from rinklog.advice.fill.leak import Floor, Found, missing, water_depth_m
from rinklog.advice.fill.sky import days_of
from rinklog.advice.fill.thaw import mild_days, outlook
from tests.advice.fill_sky import HOUR, NOW, OSLO, hours

FLAT = [Floor(1, 60.0, None), Floor(2, 40.0, None)]  # 100 m²: 10 m³ stand 0.1 m deep
# 0.20 and 0.10 m deep when full; 10 m³ on 50 + 50 m² stand 0.05 m below that: 50·0.15 + 50·0.05 = 10.
SLOPE = [Floor(1, 50.0, 0.20), Floor(2, 50.0, 0.10)]


def test_as_much_as_went_in_is_no_leak() -> None:
    found = missing(FLAT, 10.0, [Found(1, 0.10)])
    assert found is not None
    assert (found.missing_m3, found.level_m, found.suspected) == (pytest.approx(0), pytest.approx(0), False)


def test_a_fifth_that_is_gone_is_suspected_aloud() -> None:
    found = missing(FLAT, 10.0, [Found(2, 0.08)])
    assert found is not None
    assert (found.missing_m3, found.level_m, found.share_frac) == pytest.approx((2.0, 0.02, 0.2))
    assert found.suspected


def test_less_than_a_hole_can_be_misread_by_is_not() -> None:
    found = missing(FLAT, 10.0, [Found(1, 0.095)])
    assert found is not None
    assert not found.suspected  # 5 mm, a twentieth
    deep = missing(FLAT, 50.0, [Found(1, 0.48)])
    assert deep is not None
    assert not deep.suspected  # 20 mm, but a twenty-fifth


def test_over_a_slope_the_level_decides_wherever_the_hole_was() -> None:
    for hole in (Found(1, 0.15), Found(2, 0.05)):
        found = missing(SLOPE, 10.0, [hole])
        assert found is not None
        assert found.missing_m3 == pytest.approx(0, abs=1e-9)
    low = missing(SLOPE, 10.0, [Found(1, 0.08)])
    assert low is not None
    # The level is 0.12 m below full: the shallow half is dry, 50·0.08 = 4 m³ are there.
    assert (low.there_m3, low.missing_m3, low.level_m) == pytest.approx((4.0, 6.0, 0.07))
    assert low.suspected


def test_the_middle_of_several_holes_counts_not_the_one_misread() -> None:
    found = missing(FLAT, 10.0, [Found(1, 0.10), Found(2, 0.03), Found(1, 0.101)])
    assert found is not None
    assert not found.suspected


@pytest.mark.parametrize(
    ("water", "holes"), [(10.0, []), (0.0, [Found(1, 0.1)]), (10.0, [Found(9, 0.1)]), (10.0, [Found(1, 0.0)])]
)
def test_where_nothing_can_be_said_nothing_is(water: float, holes: list[Found]) -> None:
    assert missing(FLAT, water, holes) is None


def test_ice_counts_as_the_water_it_was() -> None:
    # 100 mm of ice of 917 kg/m³ are 91.7 mm of water.
    assert water_depth_m(0.08, 0.02, 0.05) == pytest.approx(0.1417)


def test_two_days_at_five_degrees_take_seventy_six_millimetres() -> None:
    # 48 h at +5 °C are 10 °C·d; 7 mm of water a degree-day are 70 mm, of ice 70/0.917 = 76.3 mm (Hock 2003: 5.5 to 9).
    thaw = outlook([*hours(6), *hours(48, NOW + 6 * HOUR, air_c=5.0)], ice_m=0.12, least_m=0.10)
    assert thaw.degree_days == pytest.approx(10.0)
    assert thaw.lost_m == pytest.approx((0.05998, 0.07634, 0.09815), abs=1e-5)
    assert thaw.starts_at == NOW + 6 * HOUR
    # 20 mm of ice are 18.34 mm of water: 2.62 °C·d at 7 mm, after 12.6 hours at +5 °C, in the 13th hour.
    assert thaw.too_thin_at[1] == NOW + (6 + 12) * HOUR


def test_frost_takes_nothing_and_ice_too_thin_already_is_not_said_to_become_so() -> None:
    frost = outlook(hours(48), 0.12, 0.10)
    assert (frost.degree_days, frost.mild_hours, frost.too_thin_at) == (0, 0, (None, None, None))
    assert outlook(hours(48, air_c=5.0), 0.08, 0.10).too_thin_at == (None, None, None)


def test_a_day_is_mild_when_its_warmest_hour_is() -> None:
    skies = [*hours(23), *hours(1, NOW + 23 * HOUR, air_c=0.1), *hours(24, NOW + 24 * HOUR, air_c=0.0)]
    assert [day.on.day for day in mild_days(days_of(skies, OSLO))] == [1]
