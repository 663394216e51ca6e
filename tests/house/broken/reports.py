"""The season's review, its files and its links."""

from tests.house.broken import Breakage

WORKED = "tests/pure/test_what_worked.py::"
FILES = "tests/reports/test_review_files.py::"
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
    Breakage(
        "rinklog/survival/turnbull.py",
        "return first + begins_there, np",
        "return first, np",
        WORKED + "test_turnbull_of_exact_and_right_censored_times_is_kaplan_meier",
    ),
    Breakage(
        "rinklog/survival/many.py",
        "(len(chances) - rank) * chances[place]",
        "len(chances) * chances[place]",
        WORKED + "test_corrections_for_many_comparisons_agree_with_statsmodels",
    ),
    Breakage(
        "rinklog/survival/many.py",
        "chances[place] * count / (count - rank)",
        "chances[place] * count",
        WORKED + "test_corrections_for_many_comparisons_agree_with_statsmodels",
    ),
    Breakage(
        "rinklog/survival/shares.py",
        "square / (4 * cases**2)",
        "square / (4 * cases)",
        WORKED + "test_wilson_intervals_agree_with_statsmodels",
    ),
    Breakage(
        "rinklog/survival/logistic.py",
        "chance * (1 - chance)",
        "chance",
        WORKED + "test_the_logistic_model_agrees_with_statsmodels",
    ),
    Breakage(
        "rinklog/survival/compare.py",
        "LEVEL = 0.04",
        "LEVEL = 0.2",
        "tests/reports/test_simulated_truth.py::test_no_winner_is_named_where_there_is_none",
    ),
    Breakage(
        "rinklog/reports/review/stored.py",
        "COUNCIL: frozenset({EVERYBODY, TREASURER})",
        "COUNCIL: frozenset({EVERYBODY, CREW, TREASURER})",
        FILES + "test_files_without_names_and_money_for_those_who_may_not_see_them",
    ),
]
ROWS += [
    Breakage(
        "rinklog/crew/closed.py",
        "if season.closed_at is None:",
        "if season:",
        "tests/web/test_closing.py::test_only_the_keeper_writes_in_a_closed_season",
    ),
    Breakage(
        "rinklog/money/amounts.py",
        "if len(part) > digits:",
        "if len(part) > 9:",
        "tests/web/test_money.py::test_what_is_no_amount_is_refused_and_never_rounded",
    ),
    Breakage(
        "rinklog/reports/queries.py",
        "token_hash=hash_of(token), revoked_at=None",
        "token_hash=hash_of(token)",
        "tests/reports/test_shared_review.py::test_a_closed_link_opens_nothing",
    ),
]
CITY = "tests/reports/test_city_file.py::"
ROWS += [
    Breakage(
        "rinklog/reports/city.py",
        "return (hour.air_c, hour.wind_ms) if hour else (None, None)",
        "return (None, None)",
        CITY + "test_every_record_stands_with_the_weather_of_its_hour",
    ),
    Breakage(
        "rinklog/web/reports/city.py",
        """@on_rink(Right.SEE_ACCIDENTS)
def city(""",
        """@on_rink(Right.SEE)
def city(""",
        CITY + "test_only_those_who_read_accidents_open_it",
    ),
]
ROWS += [
    Breakage(
        "rinklog/reports/review/earlier.py",
        "median(rates) * (cold or 0.0) / 100",
        "median(rates) * 5",
        "tests/reports/test_review_weather.py::test_a_mild_winter_is_not_called_bad_work",
    ),
    Breakage(
        "rinklog/reports/review/weather.py",
        "return self.hours >= LEAST_HOURS",
        "return self.hours > 0",
        "tests/reports/test_review_weather.py::test_a_day_of_which_too_little_is_known_is_left_out",
    ),
    Breakage(
        "rinklog/work/entry_events.py",
        '    refuse_when_closed(event.root.season, by, "event")\n',
        "",
        "tests/web/test_closing.py::test_only_the_keeper_writes_in_a_closed_season",
    ),
    Breakage(
        "rinklog/reports/review/held.py",
        "_days(spell.repaired_at, spell.seen_good_last_at)",
        "_days(spell.repaired_at, spell.repaired_at)",
        "tests/reports/test_review_edges.py::test_a_failure_lies_between_two_looks_and_the_middle_stands_beside_it",
    ),
]
