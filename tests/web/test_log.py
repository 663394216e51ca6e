"""The log by day: filters, pages that neither skip nor repeat, and the same queries for ten rows and for twenty."""

import datetime as dt
import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from rinklog.work.log_queries import LogFilter, log_page
from tests.support.cast import NOW, Cast

MINUTE = dt.timedelta(minutes=1)


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def test_ten_rows_and_twenty_take_the_same_queries(cast: Cast, cleo: Client) -> None:
    counts = []
    for first in (0, 10):
        for row in range(first, first + 10):
            cast.flood(now=NOW - row * MINUTE)
        cleo.get(f"/r/{cast.rink.slug}/log/")  # the first visit of a day renews the session
        with CaptureQueriesContext(connection) as context:
            cleo.get(f"/r/{cast.rink.slug}/log/")
        counts.append(len(context))
    assert counts[0] == counts[1]


def test_pages_hold_every_entry_once_even_at_one_moment(cast: Cast) -> None:
    made = {cast.flood(now=NOW - (row // 5) * MINUTE).id for row in range(23)}
    seen, place = [], None
    while True:
        page = log_page(cast.rink, LogFilter(), place, rows=4)
        seen += [entry.id for entry in page.entries]
        place = page.next
        if place is None:
            break
    assert len(seen) == 23
    assert set(seen) == made


def test_the_way_to_older_entries_leads_through_the_page(cast: Cast, cleo: Client) -> None:
    for row in range(45):
        cast.flood(now=NOW - row * MINUTE)
    page = cleo.get(f"/r/{cast.rink.slug}/log/").content.decode()
    link = re.search(r'rel="next" href="([^"]+)"', page)
    assert link
    older = cleo.get(link[1].replace("&amp;", "&")).content.decode()
    assert page.count('class="line"') + older.count('class="line"') == 45


@pytest.mark.parametrize(
    ("query", "shown"),
    [
        ("kind=drill-hole", {"Drill hole"}),
        ("kind=flood", {"Flood"}),
        ("since=2026-01-15", {"Flood"}),  # the hole was on the 14th
        ("until=2026-01-14", {"Drill hole"}),
        ("", {"Flood", "Drill hole"}),
    ],
)
def test_filters_show_what_fits(cast: Cast, cleo: Client, query: str, shown: set[str]) -> None:
    cast.flood()
    cast.work("drill-hole", now=NOW - dt.timedelta(days=1))
    page = cleo.get(f"/r/{cast.rink.slug}/log/?{query}").content.decode()
    panel = page[page.index('id="log"') :]
    assert {title for title in ("Flood", "Drill hole") if f"<strong>{title}" in panel} == shown


def test_by_zone_and_by_person(cast: Cast) -> None:
    hers = cast.flood(by=cast.cleo)
    his = cast.flood(by=cast.dag, zone_ids=(cast.zones[9].id,))
    assert log_page(cast.rink, LogFilter(zone_id=cast.zones[9].id)).entries == [his]
    assert log_page(cast.rink, LogFilter(person_id=cast.cleo.id)).entries == [hers]


def test_a_date_nobody_can_read_is_told(cast: Cast, cleo: Client) -> None:
    assert cleo.get(f"/r/{cast.rink.slug}/log/?since=tomorrow").status_code == 422


def test_days_are_the_rinks_own(cast: Cast, cleo: Client) -> None:
    # 23:30 UTC on 31 December is half past midnight on New Year's Day in Oslo (UTC+1).
    cast.flood(now=dt.datetime(2025, 12, 31, 23, 30, tzinfo=dt.UTC))
    assert "Thursday 1 January 2026" in cleo.get(f"/r/{cast.rink.slug}/log/").content.decode()
