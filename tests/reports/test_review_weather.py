"""The review against the weather: Chicago's degree days, and winters of different cold side by side."""

import datetime as dt
import gzip
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from rinklog.reports.review.earlier import beside_the_cold
from rinklog.reports.review.weather import winter_of
from rinklog.reports.review.whole import season_review
from rinklog.reports.services import gather
from rinklog.rink.models import Season
from rinklog.weather.formats import isd_lite
from rinklog.weather.hours import Hour
from rinklog.weather.services import store_observations
from tests.open_data import fetch
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.weather.test_files import CHICAGO

UTC_6 = ZoneInfo("Etc/GMT+6")  # the sign is POSIX's: six hours behind Greenwich


def chicago() -> bytes:
    path: Path = fetch(CHICAGO)
    return gzip.decompress(path.read_bytes())


@pytest.mark.django_db
def test_the_reviews_degree_days_of_chicago_are_the_published_ones(cast: Cast) -> None:
    # NOAA ISD-Lite 725300, 2015, local UTC−6: January 163, February 254, March 49 °C·d (computed apart, other code).
    rink, season = cast.rink, cast.season
    rink.time_zone = "Etc/GMT+6"
    rink.save()
    Season.objects.filter(id=season.id).update(starts_on=dt.date(2015, 1, 1), ends_on=dt.date(2015, 3, 31))
    until = dt.datetime(2015, 4, 1, 6, tzinfo=dt.UTC)
    hours = [hour for hour in isd_lite.parse(chicago()).hours if hour.at < until]
    store_observations(rink=rink, source="file", hours=hours, recorded_at=NOW)
    review = gather(season=Season.objects.get(id=season.id), now=NOW)
    found = {row[0]: row[1] for row in review.table("weather").rows}
    assert found["Days with weather"] == 90
    assert found["Freezing degree days"] == pytest.approx(163 + 254 + 49, abs=1.5)
    cold = {1: 0.0, 2: 0.0, 3: 0.0}
    for row in review.table("days").dicts():
        if row["mean_c"] is not None:
            cold[int(str(row["day"])[5:7])] += max(0.0, -float(row["mean_c"]))
    assert [cold[1], cold[2], cold[3]] == [pytest.approx(expected, abs=1.0) for expected in (163, 254, 49)]
    row = review.table("seasons").dicts()[0]
    assert row["freezing_degree_days"] == pytest.approx(466, abs=1.5)


def test_a_day_of_which_too_little_is_known_is_left_out() -> None:
    hours = [
        hour
        for hour in isd_lite.parse(chicago()).hours
        if hour.at < dt.datetime(2015, 1, 3, 6, tzinfo=dt.UTC)
    ]
    whole = winter_of(hours, UTC_6)
    # Without seven hours of 2 January that day no longer counts: 17 of 24 are known.
    part = winter_of([hour for hour in hours if hour.at < dt.datetime(2015, 1, 2, 23, tzinfo=dt.UTC)], UTC_6)
    second = whole.days[dt.date(2015, 1, 2)]
    assert whole.freezing_degree_days - part.freezing_degree_days == pytest.approx(max(0.0, -second.mean_c))


def row(days: int | None, cold: float | None) -> tuple[object, ...]:
    rate = 100 * days / cold if days is not None and cold else None
    return ("winter", 1, 1, 1.0, 1.0, 0, days, cold, None, None, None, None, rate)


def test_a_mild_winter_is_not_called_bad_work() -> None:
    # Rates of 10 days per 100 °C·d in the middle: 250 °C·d would usually give 25 days.
    before = [row(50, 500.0), row(36, 400.0), row(66, 600.0)]
    said = beside_the_cold(row(25, 250.0), before)
    assert said == (
        "With the cold of this winter (250 °C·d), the earlier seasons' rate gives 25 skateable days; "
        "there were 25: 100 % of it."
    )
    assert "there were 25: 50 % of it" in beside_the_cold(row(25, 500.0), before)
    for this, others in (
        (row(25, None), before),
        (row(None, 250.0), before),
        (row(25, 250.0), []),
        (row(1, 9.0), [row(0, 9.0)]),
    ):
        assert beside_the_cold(this, others) == ""


@pytest.mark.django_db
def test_without_weather_nothing_is_set_against_the_cold(cast: Cast) -> None:
    cast.flood()
    notes = " ".join(season_review(cast.season, now=NOW).table("seasons").notes)
    assert "earlier seasons' rate" not in notes
    assert "rates per degree day are left empty" in notes


@pytest.mark.django_db
def test_repairs_of_an_earlier_winter_keep_its_weather(cast: Cast) -> None:
    """Five repairs of a winter ago, in air of −12 °C: they stand in the class of their own nights."""
    then = dt.datetime(2025, 1, 10, 12, tzinfo=dt.UTC)
    Season.objects.filter(id=cast.season.id).update(
        name="before", starts_on=dt.date(2024, 11, 1), ends_on=dt.date(2025, 3, 31)
    )
    hour = dt.timedelta(hours=1)
    for number in range(5):
        hazard = put_up(cast, x_m=2.0 + number, now=then)
        cast.work("patch", now=then, hazard_ids=(hazard.id,))
    cold = [Hour(at=then.replace(minute=0) + n * hour, air_c=-12.0) for n in range(-12, 40)]
    store_observations(rink=cast.rink, source="station", hours=cold, recorded_at=NOW)
    season = Season.objects.create(
        rink=cast.rink, grid=cast.season.grid, name="2025–26", starts_on=dt.date(2025, 11, 1)
    )
    rows = gather(season=season, now=NOW).table("held-where").dicts()
    assert [(row["where"], row["repairs"]) for row in rows if row["by"] == "air"] == [("below −10 °C", 5)]
