"""What speaks for closing, and the grade by stated criteria."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/advice/closing.py",
        "if this.air_c > warm_c:",
        "if this.air_c >= warm_c:",
        "tests/advice/test_closing.py::test_ritchie_closes_below_twenty_and_above_zero",
    ),
    Breakage(
        "rinklog/advice/grading.py",
        "flawed_frac < EXCELLENT_BELOW",
        "flawed_frac <= EXCELLENT_BELOW",
        "tests/advice/test_closing.py::test_grades_follow_napervilles_criteria",
    ),
    Breakage(
        "rinklog/web/records/suggesting.py",
        '{"state": Opening.State.CLOSED, "reason": found.reason} if found else {}',
        '{"state": Opening.State.CLOSED if found else Opening.State.OPEN}',
        "tests/web/test_suggesting.py::test_cold_air_says_nothing_and_nothing_ever_fills_in_open",
    ),
]
