"""The weather of entries and the weather page, broken on purpose."""

from tests.house.broken import Breakage

ENTRY = "tests/reports/test_entry_weather.py"
PAGE = "tests/web/test_weather_page.py"
ROWS = [
    Breakage(
        "rinklog/reports/entry_weather.py",
        "observed=all(one.observed for one in hours),",
        "observed=any(one.observed for one in hours),",
        f"{ENTRY}::test_half_observed_is_not_called_observed",
    ),
    Breakage(
        "rinklog/reports/entry_weather.py",
        "count = -((floor(start) - end) // HOUR)",
        "count = (end - floor(start)) // HOUR",
        f"{ENTRY}::test_an_entry_has_the_weather_of_every_hour_it_touches_and_of_no_other",
    ),
    Breakage(
        "rinklog/weather/queries.py",
        "if holds(spans, hour.at) and (",
        "if (",
        f"{ENTRY}::test_stretches_together_are_the_same_hours_as_one_by_one",
    ),
    Breakage(
        "rinklog/web/weather/picture.py",
        " or hours[n + 1].hour.at - hours[n].hour.at > HOUR",
        "",
        f"{PAGE}::test_a_gap_is_a_gap_in_the_line_and_foretold_hours_are_drawn_apart",
    ),
    Breakage(
        "rinklog/web/weather/cold.py",
        "hour.wind_ms * MS_KMH",
        "hour.wind_ms",
        f"{PAGE}::test_wind_chill_and_frostbite_are_those_of_the_published_table",
    ),
    Breakage(
        "rinklog/web/weather/states.py",
        "now - run.made_at >= OLD_AFTER",
        "now - run.fetched_at >= 2 * OLD_AFTER",
        f"{PAGE}::test_an_old_forecast_is_shown_with_its_age",
    ),
]
