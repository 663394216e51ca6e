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
]
