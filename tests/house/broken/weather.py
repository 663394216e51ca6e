"""Weather: what wins, what is asked, what is left out."""

from tests.house.broken import Breakage

KNOWN, PULL, IMPORT = (
    "tests/weather/test_known_hours.py",
    "tests/weather/test_pulling.py",
    "tests/weather/test_imports.py",
)
ROWS = [
    Breakage(
        "rinklog/weather/queries.py",
        "runs.filter(fetched_at__lte=known_at)",
        "runs",
        f"{KNOWN}::test_only_what_was_known_then_is_given",
    ),
    Breakage(
        "rinklog/weather/queries.py",
        "((source != A_PERSON, abs(at - on)",
        "((False, abs(at - on)",
        f"{KNOWN}::test_a_report_speaks_for_the_nearest_full_hour_and_a_person_comes_first",
    ),
    Breakage(
        "rinklog/weather/known.py",
        '    ("wind_ms", "gust_ms", "wind_from_deg"),',
        '    ("wind_ms",),\n    ("gust_ms",),\n    ("wind_from_deg",),',
        f"{KNOWN}::test_wind_and_gust_of_two_sources_are_never_put_together",
    ),
    Breakage(
        "rinklog/weather/services.py",
        "if value is not None}",
        "}",
        f"{KNOWN}::test_a_correction_replaces_what_it_says_and_erases_nothing",
    ),
    Breakage(
        "rinklog/weather/services.py",
        "if made_at > fetched_at + CLOCK_SLACK:",
        "if False:",
        f"{KNOWN}::test_a_clock_wrong_by_a_day_is_refused_in_either_direction",
    ),
    Breakage(
        "rinklog/weather/thinning.py",
        "return kept | {id for id, run, at in ours if (run, at) in ends}",
        "return set()",
        "tests/weather/test_thinning.py::test_the_past_stays_the_same_to_the_last_bit",
    ),
    Breakage(
        "rinklog/weather/pulling.py",
        "return min(LONG_REST * 2 **",
        "return min(LONG_REST * 1 **",
        f"{PULL}::test_a_source_that_keeps_failing_rests_longer_each_time",
    ),
    Breakage(
        "rinklog/weather/pulling.py",
        "        if source.expires_at and source.expires_at > now and source.asked_for == str(place):",
        "        if False:",
        f"{PULL}::test_a_forecast_is_fetched_with_a_rounded_position_and_then_left_alone",
    ),
    Breakage(
        "rinklog/weather/providers/asking.py",
        "DECIMALS = 4",
        "DECIMALS = 6",
        f"{PULL}::test_a_forecast_is_fetched_with_a_rounded_position_and_then_left_alone",
    ),
    Breakage(
        "rinklog/weather/providers/asking.py",
        'if not path.startswith(folder) or ".." in path',
        'if ".." in path',
        f"{PULL}::test_a_grid_that_leads_elsewhere_is_refused",
    ),
    Breakage(
        "rinklog/weather/client.py",
        "return min(max(until - sent, dt.timedelta(0)), LONGEST_LIFE)",
        "return LONGEST_LIFE",
        "tests/weather/test_client.py::test_expires_counts_from_the_services_own_date",
    ),
    Breakage(
        "rinklog/weather/providers/metar_reports.py",
        "abs(best - near):",
        "abs(near - near):",
        "tests/weather/test_metar.py::test_a_day_belongs_to_the_nearest_month_that_has_it",
    ),
    Breakage(
        "rinklog/weather/formats/reading.py",
        "and (up > 0) == (down > 0)",
        "and False",
        f"{IMPORT}::test_a_lone_spike_a_backward_hour_and_a_wrong_unit_are_named_with_their_lines",
    ),
    Breakage(
        "rinklog/weather/formats/reading.py",
        "before = Hour(last, air_c=self.place.last_air_c) if last else None",
        "before = None",
        f"{IMPORT}::test_a_reading_that_was_cut_off_goes_on_where_it_stopped",
    ),
    Breakage(
        "rinklog/weather/formats/reading.py",
        "share = 1 if name in SUMS else len(known)",
        "share = len(known)",
        f"{IMPORT}::test_rows_closer_than_an_hour_are_folded_into_it",
    ),
]
