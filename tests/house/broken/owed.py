"""Loans and dates."""

from tests.house.broken import Breakage

LOANS = "tests/owed/test_loans.py::"
DATES = "tests/owed/test_dates.py::"
ROWS = [
    Breakage(
        "rinklog/owed/counting.py",
        "sound = min(count, self.sound)",
        "sound = count",
        LOANS + "test_faults_and_losses_move_the_counts_and_never_the_loan",
    ),
    Breakage(
        "rinklog/owed/telling.py",
        'key=f"paper {one.id} {which}"',
        'key=f"paper {one.id} {now}"',
        DATES + "test_a_daily_sweep_tells_each_stage_once_to_those_who_see_papers",
    ),
    Breakage(
        "rinklog/owed/telling.py",
        "today = local_day(now, ZoneInfo(one.rink.time_zone))",
        "today = now.date()",
        DATES + "test_the_day_is_the_rinks_own",
    ),
]
