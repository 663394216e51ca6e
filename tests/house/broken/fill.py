"""The first fill, the storm watch and the leak."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/advice/fill/start_run.py",
        "day.low_c < self.low_below_c",
        "day.low_c <= self.low_below_c",
        "tests/advice/test_start_run.py::test_burlington_wants_five_nights_below_five",
    ),
    Breakage(
        "rinklog/advice/fill/start_run.py",
        "found[-1][-1].on == day.on - DAY",
        "True",
        "tests/advice/test_start_run.py::test_minneapolis_counts_ten_days_and_a_mild_sixth_begins_them_again",
    ),
    Breakage(
        "rinklog/advice/fill/storm.py",
        "since = sky.at - (SNOW_HOURS - 1) * HOUR",
        "since = sky.at - SNOW_HOURS * HOUR",
        "tests/advice/test_storm_and_liner.py::test_snow_is_summed_over_twelve_hours_and_rain_is_no_snow",
    ),
    Breakage(
        "rinklog/advice/fill/storm.py",
        "first.astimezone(zone).date()",
        "first.date()",
        "tests/advice/test_storm_and_liner.py::test_a_turning_that_shifts_by_hours_keeps_its_key_and_a_much_worse_one_gets_another",
    ),
    Breakage(
        "rinklog/advice/fill/leak.py",
        "np.maximum(level - ground, 0.0)",
        "(level - ground)",
        "tests/advice/test_leak_and_thaw.py::test_over_a_slope_the_level_decides_wherever_the_hole_was",
    ),
    Breakage(
        "rinklog/advice/fill/thaw.py",
        "* 1000 / RHO_ICE_KGM3",
        "",
        "tests/advice/test_leak_and_thaw.py::test_two_days_at_five_degrees_take_seventy_six_millimetres",
    ),
    Breakage(
        "rinklog/advice/fill/first_carry.py",
        "for hours in freeze(np.repeat(depths, MEMBERS), wide, wanted_m)",
        "for hours in freeze(np.repeat(depths[:1], len(depths) * MEMBERS), wide, wanted_m)",
        "tests/advice/test_first_carry.py::test_the_slowest_zone_decides_and_the_band_is_in_order",
    ),
    Breakage(
        "rinklog/plan/services/sky.py",
        'f"{one.key} {facts.season.id}"',
        'f"{one.key} {facts.season.id} {now}"',
        "tests/plan/test_sky.py::test_the_same_turning_is_told_once_and_a_worse_one_again",
    ),
    Breakage(
        "rinklog/advice/fill/reading.py",
        ".filter(~Exists(frozen))",
        "",
        "tests/plan/test_sky.py::test_snow_on_an_open_fill_is_told_though_people_skate_elsewhere_until_it_is_frozen",
    ),
]
