"""The plan: rules on the rink's clock, places, teams, dates, nobody alone on the ice."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/plan/rules/recurrence.py",
        'clock.from_local(wall, recurrence.zone, "first")',
        'clock.from_local(wall, recurrence.zone, "second")',
        "tests/plan/test_recurrence.py::test_of_a_time_that_autumn_has_twice_the_first_counts",
    ),
    Breakage(
        "rinklog/plan/services/places.py",
        "elif place.shift.starts_at - now <= _soon(place.shift):",
        "elif place.shift.starts_at > now:",
        "tests/plan/test_places.py::test_a_place_given_back_is_coordinators_news_only_when_the_shift_is_soon",
    ),
    Breakage(
        "rinklog/plan/services/teams.py",
        "if person.id in on_crew\n",
        "if person.id\n",
        "tests/plan/test_sweep.py::test_of_a_team_nobody_is_put_on_who_is_gone_away_or_elsewhere",
    ),
    Breakage(
        "rinklog/plan/services/due.py",
        "(date.state == State.LET_GO and now < date.until)",
        "False",
        "tests/plan/test_due_dates.py::test_a_forecast_that_turns_cold_within_its_time_makes_it_due_again_and_after_it_nothing_does",
    ),
    Breakage(
        "rinklog/plan/services/on_ice.py",
        "shift is not None and shift.roster == Shift.Roster.ICE",
        "shift is not None",
        "tests/plan/test_sweep.py::test_whoever_is_on_the_hut_shift_is_nobodys_second_on_the_ice",
    ),
    Breakage(
        "rinklog/plan/tasks.py",
        '@shared_task(name="plan.watch_skies_of", **AGAIN)',
        '@shared_task(name="plan.watch_skies_of")',
        "tests/upkeep/test_timetable.py::test_every_task_is_named_after_its_app_and_tried_again_a_few_times_when_the_database_is_busy",
    ),
]
