"""Advice, windows to flood in, and learning from being wrong."""

from tests.house.broken import Breakage

VALUES = "tests/advice/test_practice_values.py::"
RULES = "tests/advice/test_rules.py::"
CHOSEN = "tests/advice/test_windows_chosen.py::"
LEARNING = "tests/advice/test_learning.py::"

ROWS = [
    Breakage(
        "rinklog/work/spell_queries.py",
        "        elif one.state in ENDS_UNFAILED:\n",
        "        elif one.state == State.CLOSED:\n",
        "tests/work/test_spells.py::test_a_second_repair_ends_the_first_without_failure",
    ),
    Breakage(
        "rinklog/advice/rules/thickness_check.py",
        "max(so_far) <= limit",
        "max(so_far) <= limit + 1",
        VALUES + "test_a_thickness_check_is_due_on_a_mild_day",
    ),
    Breakage(
        "rinklog/advice/rules/machines.py",
        "since = max(now.now - COUNTS_FOR, max(warm, default=now.now - COUNTS_FOR))",
        "since = now.now - COUNTS_FOR",
        VALUES + "test_holes_from_before_it_was_mild_count_no_longer",
    ),
    Breakage(
        "rinklog/rink/machine_rule.py",
        "return len(counted_m) >= self.holes and thick",
        "return bool(counted_m) and thick",
        VALUES + "test_machines_need_enough_ice_in_every_one_of_enough_holes",
    ),
    Breakage(
        "rinklog/advice/rules/snow.py",
        "    if snow_left_on.shields(now):\n        return []\n",
        "",
        RULES + "test_snow_is_left_on_before_freezing_rain",
    ),
    Breakage(
        "rinklog/advice/rules/snow.py",
        "    if zone.water_under_m < SLUSH_WATER_M or zone.snow_m is None:",
        "    if zone.snow_m is None:",
        RULES + "test_slush_is_spoken_of_only_where_water_remains_beneath",
    ),
    Breakage(
        "rinklog/advice/rules/flood.py",
        '    if at_start > now.rules["flood_warmest_c"]:',
        '    if at_start > now.rules["flood_warmest_c"] + 5:',
        RULES + "test_rules_of_thumb_that_say_otherwise_stand_beside_the_physics",
    ),
    Breakage(
        "rinklog/advice/windows.py",
        "    if snow >= FALL_SPOILS_MM:",
        "    if snow >= 100 * FALL_SPOILS_MM:",
        CHOSEN + "test_snow_rain_and_wind_rule_a_start_out_and_less_of_them_is_told",
    ),
    Breakage(
        "rinklog/advice/windows.py",
        'found = from_local(opens + dt.timedelta(days=day), self.zone, "first")',
        "found = opens.replace(tzinfo=dt.UTC) + dt.timedelta(days=day)",
        CHOSEN + "test_a_coat_must_be_frozen_by_the_next_hour_of_opening_on_the_rinks_clock",
    ),
    Breakage(
        "rinklog/advice/search.py",
        "np.where(good, coats * share, -1.0)",
        "np.where(good, share, -1.0)",
        "tests/advice/test_search.py::test_the_best_coat_is_the_most_expected_ice_among_those_likely_enough",
    ),
    Breakage(
        "rinklog/advice/search.py",
        "    if not good.any() or found.wet_m[place] >= WET_LIES_M:",
        "    if not good.any():",
        "tests/advice/test_search.py::test_no_flood_goes_onto_a_coat_that_is_still_wet",
    ),
    Breakage(
        "rinklog/advice/learning.py",
        "((self.middle_h - self.pour_h) / self.factor))",
        "(self.middle_h - self.pour_h))",
        LEARNING + "test_a_correction_never_learns_from_itself",
    ),
    Breakage(
        "rinklog/advice/learning.py",
        "median(ratios) * count / (count + SHRINK)",
        "median(ratios)",
        LEARNING + "test_the_correction_is_the_shrunken_median_ratio",
    ),
    Breakage(
        "rinklog/advice/services.py",
        "bisect_right(self.made, at, key=lambda one: one[0])",
        "len(self.made)",
        "tests/advice/test_predictions.py::test_advice_that_was_made_after_the_flood_began_is_not_its_prediction",
    ),
    Breakage(
        "rinklog/advice/outcomes.py",
        "            if abs(event.recorded_at - event.at) > OWN_TIME:\n",
        "            if True:\n",
        "tests/advice/test_predictions.py::test_a_tap_that_names_a_time_is_a_time_and_one_of_the_morning_is_not",
    ),
    Breakage(
        "rinklog/advice/repair.py",
        "{True: 0, None: 1, False: 2}[way.feasible], -way.rank",
        "0, -way.rank",
        "tests/advice/test_repair.py::test_what_does_not_freeze_in_time_comes_last",
    ),
    Breakage(
        "rinklog/advice/repair.py",
        "    if len(alike) < ENOUGH:",
        "    if not alike:",
        "tests/advice/test_repair.py::test_four_repairs_are_too_few_and_other_defects_do_not_count",
    ),
    Breakage(
        "rinklog/advice/search.py",
        " + np.asarray(found.coats_mm)[:, None] * pour_h_per_mm)",
        ")",
        CHOSEN + "test_a_hose_that_takes_long_leaves_less_time_to_freeze_and_a_thinner_coat",
    ),
    Breakage(
        "rinklog/advice/windows.py",
        "return max(min(by_rule, by_hose), COATS_MM[0])",
        "return by_rule",
        CHOSEN + "test_no_flood_takes_longer_at_the_hose_than_the_rule_says_but_the_thinnest",
    ),
    Breakage(
        "rinklog/advice/learning.py",
        "math.log((seen - self.pour_h) /",
        "math.log(seen /",
        LEARNING + "test_what_is_learned_is_the_freezing_and_not_how_long_the_hose_ran",
    ),
    Breakage(
        "rinklog/celery.py",
        '    "ice.project": "advice.sweep",\n',
        "",
        "tests/upkeep/test_what_follows.py::test_new_weather_is_followed_by_ice_and_new_ice_by_advice",
    ),
]
