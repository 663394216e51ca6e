"""What waited on a phone and comes late."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/web/logbook/filling.py",
        "elsewhere and (grid := grid_holding(at.rink, picked))",
        "False and (grid := grid_holding(at.rink, picked))",
        "tests/web/test_late_posts.py::test_what_was_done_before_a_new_season_began_stands_on_the_grid_it_was_written_on",
    ),
    Breakage(
        "rinklog/web/errors.py",
        "if isinstance(exception, RequestDataTooBig):",
        "if False:",
        "tests/web/test_late_posts.py::test_more_text_than_the_site_takes_is_413_with_the_limit",
    ),
    Breakage(
        "tests/torture/ledger.py",
        "if times[deed.note] > 1]",
        "if times[deed.note] > 2]",
        "tests/offline/test_ledger.py::test_every_harm_is_seen",
    ),
    Breakage(
        "rinklog/rink/sign_places.py",
        "if (sign.rows, sign.columns) != (grid.rows, grid.columns):",
        "if False:",
        "tests/web/test_signs.py::test_phones_are_told_where_each_standing_sign_leads_in_a_few_queries",
    ),
    Breakage(
        "rinklog/work/cones.py",
        'for stand in stands.order_by("at", "recorded_at")',
        'for stand in stands.order_by("-at", "-recorded_at")',
        "tests/web/test_signs.py::test_the_newest_place_of_a_cone_counts_for_phones_too",
    ),
    Breakage(
        "rinklog/web/hazards/views.py",
        "return (grid_holding(at.rink, picked) or shown) if elsewhere else shown",
        "return shown",
        "tests/web/test_late_posts.py::test_a_hazard_found_before_a_new_season_began_stands_on_the_grid_it_was_found_on",
    ),
    Breakage(
        "rinklog/archive/csv_in.py",
        "write_cones(plan, book)",
        "pass",
        "tests/archive/test_csv_round_trip.py::test_numbered_cones_come_back_and_a_number_that_no_cone_has_is_told",
    ),
]
