"""The rink page: what waits for somebody, one tap to answer it, and few queries whatever the season holds."""

import datetime as dt
from uuid import uuid4

import pytest
from django.test import Client
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from rinklog.work.entry_events import add_event
from rinklog.work.models import EntryEvent
from tests.support.cast import Cast
from tests.support.hazards import put_up

MOST_QUERIES = 12  # the issue's own figure


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def fill(cast: Cast, rows: int) -> None:
    """Floods of the last hours, covers, hazards with and without a cone."""
    now = timezone.now()
    for row in range(rows):
        cast.flood(now=now - dt.timedelta(minutes=row + 1))
        cast.work("tarp-melt", now=now - dt.timedelta(days=5, minutes=row))
        put_up(cast)


@pytest.mark.parametrize("rows", [0, 10, 20])
def test_home_asks_at_most_twelve_queries_whatever_there_is(
    cast: Cast, cleo: Client, rows: int, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    fill(cast, rows)
    cleo.get(f"/r/{cast.rink.slug}/")  # the first visit of a day renews the session
    with django_assert_max_num_queries(MOST_QUERIES):
        page = cleo.get(f"/r/{cast.rink.slug}/").content.decode()
    assert page.count("Cover lies") == rows
    if rows:
        assert f"{rows} hazards without a cone" in page


def test_a_cover_stays_on_the_rink_page_until_somebody_lifts_it(cast: Cast, cleo: Client) -> None:
    cover = cast.work("tarp-melt", now=timezone.now() - dt.timedelta(days=40))
    address = f"/r/{cast.rink.slug}/"
    assert "Cover lies" in cleo.get(address).content.decode()
    said = {"id": str(uuid4()), "result": "partly"}
    for _again in range(2):
        assert cleo.post(f"{address}entry/{cover.id}/event/lifted/", said).status_code == 302
    assert EntryEvent.objects.get().details == {"result": "partly"}
    assert "Cover lies" not in cleo.get(address).content.decode()


def test_one_tap_says_that_a_flood_is_set_and_one_tap_takes_it_back(cast: Cast, cleo: Client) -> None:
    flood = cast.flood(now=timezone.now() - dt.timedelta(hours=1))
    address = f"/r/{cast.rink.slug}/"
    assert "Open now" in cleo.get(address).content.decode()
    said = cleo.post(
        f"{address}entry/{flood.id}/event/set/", {"id": str(uuid4()), "next": "home"}, follow=True
    )
    page = said.content.decode()
    assert "Open now" not in page
    assert "Undo" in page
    event = EntryEvent.objects.get()
    cleo.post(f"{address}entry-event/{event.id}/undo/", {"next": "home"})
    assert "Open now" in cleo.get(address).content.decode()


def test_a_flood_of_last_week_is_not_waited_for(cast: Cast, cleo: Client) -> None:
    cast.flood(now=timezone.now() - dt.timedelta(days=7))
    assert "Open now" not in cleo.get(f"/r/{cast.rink.slug}/").content.decode()


def test_a_guest_sees_what_is_open_without_buttons(cast: Cast, client: Client) -> None:
    cast.flood(now=timezone.now() - dt.timedelta(hours=1))
    client.force_login(cast.eli)
    page = client.get(f"/r/{cast.rink.slug}/").content.decode()
    assert "Open now" in page
    assert "/event/set/" not in page


def test_a_frozen_flood_needs_no_set(cast: Cast, cleo: Client) -> None:
    flood = cast.flood(now=timezone.now() - dt.timedelta(hours=1))
    add_event(id=uuid4(), entry=flood, what="frozen", by=cast.dag, now=timezone.now())
    assert "Open now" not in cleo.get(f"/r/{cast.rink.slug}/").content.decode()
