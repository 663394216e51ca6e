"""Which day of a forecast suits a task: by days and hours written out by hand."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from rinklog.advice.fill.sky import Day, Sky
from rinklog.site.forecast_dates import suits

OSLO = ZoneInfo("Europe/Oslo")
FIRST = dt.date(2025, 11, 20)
RULES = {"liner_wind_ms": 4.0, "start_night_c": -5.0, "start_nights": 5.0}


def days(*lows: float, skip: int | None = None) -> list[Day]:
    """Days in a row with these lowest temperatures, the highest 4 K above; one may be missing."""
    made = [Day(FIRST + dt.timedelta(days=n), low, low + 4, 2.0, 0.0, 24) for n, low in enumerate(lows)]
    return [day for n, day in enumerate(made) if n != skip]


def hours(*winds: float, first_hour: int = 9) -> list[Sky]:
    """Hours in a row from that hour of the first day, on the rink's clock, dry."""
    start = dt.datetime(2025, 11, 20, first_hour, tzinfo=OSLO).astimezone(dt.UTC)
    return [Sky(start + dt.timedelta(hours=n), 2.0, wind, wind, 0.0) for n, wind in enumerate(winds)]


@pytest.mark.parametrize(
    ("lows", "skip", "on"),
    [
        ((2.0, -3.0, -3.0, 1.0), None, 1),
        ((2.0, -3.0, -2.9, -4.0, -5.0), None, 3),
        ((-3.0, 9.0, -3.0), 1, None),  # the day between is not known: two cold ones apart are no row
        ((-2.9, -2.9, -2.9), None, None),
    ],
)
def test_the_ground_is_hard_after_two_nights_of_three_degrees(
    lows: tuple[float, ...], skip: int | None, on: int | None
) -> None:
    found = suits(days(*lows, skip=skip), [], RULES, OSLO).get("before-frost")
    assert (found.on if found else None) == (None if on is None else FIRST + dt.timedelta(days=on))
    assert found is None or found.by_then


def test_calm_is_three_dry_hours_by_day_below_the_rinks_own_wind() -> None:
    found = suits([], hours(6, 6, 3, 3, 3, 5), RULES, OSLO)["calm"]
    assert found.starts_at == dt.datetime(2025, 11, 20, 11, tzinfo=OSLO)
    assert found.ends_at == dt.datetime(2025, 11, 20, 14, tzinfo=OSLO)
    assert "calm" not in suits([], hours(3, 3, 5, 3, 3), RULES, OSLO)


def test_the_cold_run_and_the_thaw_begin_on_their_first_day() -> None:
    # Burlington ON: five nights below -5 °C.
    assert suits(days(0, -5.1, -6, -6, -6, -6), [], RULES, OSLO)["cold-run"].on == FIRST + dt.timedelta(
        days=1
    )
    assert "cold-run" not in suits(days(-5.1, -6, -6, -6, -5.0), [], RULES, OSLO)
    assert suits(days(-1, 0.5, 1), [], RULES, OSLO)["thaw"].on == FIRST + dt.timedelta(days=1)
