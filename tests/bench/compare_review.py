"""The season's review: against hand-written SQL for the same tables, and how it grows with what is written down."""

import datetime as dt
import os
from typing import Any

from tests.bench.measure import Row, alternate, at_most, comparison
from tests.bench.one import database

SEASONS, ENTRIES = 20, 5_000
FEW, MANY = 2_000, 20_000


def prepare() -> Any:
    """An empty site with the cast of the tests."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.bench.settings"
    database()
    from tests.support.cast import make_cast

    return make_cast()


def fill(cast: Any, seasons: int, entries: int) -> Any:
    """The rink's own season and earlier ones, each full; hazards and openings too. Returns the latest season."""
    from django.db import connection

    from rinklog.rink.models import Season
    from tests.reports.large import generate, generate_repairs
    from tests.support.cast import NOW
    from tests.support.records import an_opening

    latest = Season.objects.get(rink=cast.rink)
    for number in range(seasons):
        season = latest
        if number:
            starts = dt.date(2025 - number, 11, 1)
            season = Season.objects.create(
                rink=cast.rink, grid=latest.grid, name=f"{starts.year}", starts_on=starts,
                ends_on=starts + dt.timedelta(days=150),
            )  # fmt: skip
        generate(cast, entries, season, seed=number)
        generate_repairs(cast, entries // 100, season, seed=1000 + number)
    for number in range(entries // 100):
        an_opening(cast, ("open", "closed")[number % 2], NOW - dt.timedelta(hours=number))
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    return latest


def reviewer(season: Any) -> Any:
    """A call that gathers one season's review."""
    from rinklog.reports.review.whole import season_review
    from tests.support.cast import NOW

    return lambda: season_review(season, now=NOW + dt.timedelta(days=1))


@comparison("review-against-sql")
def review_against_sql() -> Row:
    """The latest of twenty seasons of 5,000 entries each, beside the nineteen before it."""
    from tests.bench.against.review_sql import tables

    cast = prepare()
    season = fill(cast, SEASONS, ENTRIES)
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    gather = reviewer(season)
    with CaptureQueriesContext(connection) as context:
        gather()
    raw = connection.connection
    ours, against = alternate(gather, lambda: tables(raw, season.id.hex, cast.rink.id.hex), rounds=9, warm=2)
    note = f"{SEASONS} seasons × {ENTRIES} entries, {len(context)} queries"
    return at_most("review-against-sql", ours * 1000, against * 1000, times=1.5, unit="ms", note=note)


@comparison("review-growth")
def review_growth() -> Row:
    """Ten times the entries: at most ten times as long, in one database."""
    cast = prepare()
    from rinklog.rink.models import Season
    from tests.reports.large import generate, generate_repairs

    much, little = fill(cast, 1, MANY), Season.objects.get(rink=cast.other_rink)
    generate(cast, FEW, little, seed=99)
    generate_repairs(cast, FEW // 100, little, seed=98)
    many, few = alternate(reviewer(much), reviewer(little), rounds=7, warm=1)
    note = f"{MANY} entries against {FEW}"
    return at_most("review-growth", many * 1000, few * 1000, times=MANY / FEW, unit="ms", note=note)
