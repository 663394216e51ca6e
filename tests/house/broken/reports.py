"""The season's review, its files and its links."""

from tests.house.broken import Breakage

REVIEW = "tests/reports/test_review.py::"
ROWS = [
    Breakage(
        "rinklog/reports/review/cuts.py",
        "{self.offset_min:+d} minutes",
        "+0 minutes",
        REVIEW + "test_days_and_weeks_are_cut_on_the_rinks_clock_over_new_year_and_clock_change",
    ),
    Breakage(
        "rinklog/reports/review/facts.py",
        "Entry.objects.filter(season=self.span.season, state=STANDING)",
        "Entry.objects.filter(season=self.span.season)",
        REVIEW + "test_a_withdrawn_flood_leaves_every_table",
    ),
    Breakage(
        "rinklog/reports/review/water.py",
        "if last is not None and before < last - flood_kind.ROUNDING_M3:",
        "if False:",
        REVIEW + "test_a_meter_that_goes_back_or_was_replaced_is_said_and_never_counted",
    ),
    Breakage(
        "rinklog/reports/review/floods.py",
        "place >= 0 and at - floods[place][0] <= LOOKED_WITHIN_S",
        "place >= 0",
        REVIEW + "test_a_flood_is_spoilt_only_when_somebody_saw_it_in_time_and_before_the_next",
    ),
    Breakage(
        "rinklog/reports/review/hazards.py",
        "if state not in NOT_OPEN:",
        "if state != State.CLOSED:",
        REVIEW + "test_hazards_count_open_days_bare_hours_and_comebacks",
    ),
    Breakage(
        "rinklog/reports/review/opening.py",
        "while day_bounds(day, zone)[0] < end:",
        "while day_bounds(day, zone)[1] < end:",
        REVIEW + "test_skateable_days_come_from_what_people_set",
    ),
    Breakage(
        "rinklog/reports/queries.py",
        'n=Count("id"), last=Max("recorded_at"))],',
        'n=Count("id") * 0)],',
        REVIEW + "test_what_is_built_holds_until_a_late_entry_changes_it",
    ),
]
