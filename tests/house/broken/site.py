"""The site: the survey, the water on it, the counts, the wind and the drift."""

from tests.house.broken import Breakage

WATER = "tests/pure/test_site_water.py::"
PARTS = "tests/pure/test_site_parts.py::"
PAGE = "tests/web/test_site.py::"

ROWS = [
    Breakage(
        "rinklog/geometry/site.py",
        "if water.board_depth_m > kit.board_m:",
        "if False:",
        PAGE + "test_water_higher_than_the_boards_is_a_sentence_and_no_number",
    ),
    Breakage(
        "rinklog/geometry/sheet.py",
        "np.sqrt(self.corner_m**2 - into**2)",
        "(self.corner_m - into)",
        WATER + "test_a_plane_holds_what_its_wedge_holds",
    ),
    Breakage(
        "rinklog/geometry/squareness.py",
        "/ (4 * length_m)",
        "/ (2 * length_m)",
        PARTS + "test_two_diagonals_say_how_far_the_end_must_slide",
    ),
    Breakage(
        "rinklog/geometry/fence_profile.py",
        "HIGHEST_AT * low, (1 - HIGHEST_AT) * low",
        "HIGHEST_AT * 2, (1 - HIGHEST_AT) * 2",
        PARTS + "test_the_drift_has_tablers_length_depth_and_area",
    ),
    Breakage(
        "rinklog/geometry/blown.py",
        "min(self.potential_tm, self.ceiling_tm)",
        "self.potential_tm",
        PARTS + "test_no_more_comes_than_lies_upwind",
    ),
    Breakage(
        "rinklog/site/services/lists.py",
        "if missing and not anyway:",
        "if False:",
        "tests/site/test_lists.py::test_what_comes_before_is_asked_for_once",
    ),
    Breakage(
        "rinklog/site/queries/store.py",
        "return have[0] >= want[0] and have[1] >= want[1]",
        "return have[0] >= want[0]",
        "tests/site/test_store.py::test_only_what_is_good_and_large_enough_is_there",
    ),
    Breakage(
        "rinklog/site/forecast_dates.py",
        "lambda day: day.low_c <= HARD_NIGHT_C",
        "lambda day: day.low_c < HARD_NIGHT_C",
        "tests/site/test_forecast_dates.py::test_the_ground_is_hard_after_two_nights_of_three_degrees",
    ),
]
