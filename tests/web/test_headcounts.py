"""Skaters by the hour."""

import datetime as dt
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.test import Client

from rinklog.records.models import Headcount
from rinklog.records.queries import hours
from rinklog.records.services import hour_of
from tests.support.cast import NOW, Cast
from tests.support.counting import queries_of
from tests.support.records import skaters

HOUR, DAY = dt.timedelta(hours=1), dt.timedelta(days=1)


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def room(cast: Cast, page: str = "") -> str:
    return f"/r/{cast.rink.slug}/records/headcounts/{page}"


def tap(skaters: object = 1, when: str = "2026-01-15T21:40", **more: object) -> dict[str, object]:
    return {"id": str(uuid4()), "when": when, "skaters": skaters} | more


def counted(cast: Cast) -> dict[str, int]:
    found = hours(cast.rink, NOW - DAY, NOW + DAY)
    return {hour.at.strftime("%d %H:%M"): hour.skaters for hour in found}


def test_taps_in_one_hour_add_up_and_the_next_hour_starts_at_none(cleo: Client, cast: Cast) -> None:
    for sent in (tap(), tap(5), tap(1, "2026-01-15T21:59"), tap(1, "2026-01-15T22:00")):
        assert cleo.post(room(cast, "add/"), sent).status_code == 302
    # Oslo is UTC+1 in January: 21 o'clock there is 20:00 UTC.
    assert counted(cast) == {"15 20:00": 7, "15 21:00": 1}
    page = cleo.get(room(cast) + "?day=2026-01-15").content.decode()
    assert '<td class="num">7</td>' in page


def test_a_number_for_the_hour_stands_in_place_of_the_taps_before_it_and_later_taps_add_to_it(
    cast: Cast,
) -> None:
    skaters(cast, 5, NOW)
    skaters(cast, 40, NOW + dt.timedelta(minutes=1), whole=True)
    skaters(cast, 1, NOW + dt.timedelta(minutes=2))
    assert counted(cast) == {"15 20:00": 41}


def test_a_replayed_tap_counts_once_and_other_content_is_a_conflict(cleo: Client, cast: Cast) -> None:
    sent = tap(5)
    for _again in range(3):
        assert cleo.post(room(cast, "add/"), sent).status_code == 302
    assert counted(cast) == {"15 20:00": 5}
    assert cleo.post(room(cast, "add/"), sent | {"skaters": 6}).status_code == 409
    assert Headcount.objects.count() == 1


def test_an_hour_that_the_clock_has_twice_is_two_hours() -> None:
    # Europe/Oslo goes from 03:00 to 02:00 on 26 October 2025 (EU directive 2000/84/EC: 01:00 UTC, last Sunday).
    zone = ZoneInfo("Europe/Oslo")
    first = dt.datetime(2025, 10, 26, 0, 30, tzinfo=dt.UTC)
    assert hour_of(first, zone) == dt.datetime(2025, 10, 26, 0, 0, tzinfo=dt.UTC)
    assert hour_of(first + HOUR, zone) == dt.datetime(2025, 10, 26, 1, 0, tzinfo=dt.UTC)


def test_an_hour_begins_on_the_rinks_clock_where_that_is_half_an_hour_off() -> None:
    # St. John's is UTC−3:30 in winter: 10:10 UTC is 06:40 there; that hour began at 06:00, 09:30 UTC.
    at = dt.datetime(2026, 1, 15, 10, 10, tzinfo=dt.UTC)
    began = hour_of(at, ZoneInfo("America/St_Johns"))
    assert began == dt.datetime(2026, 1, 15, 9, 30, tzinfo=dt.UTC)


@pytest.mark.parametrize("value", ["-1", "many", "5001", "2.5", ""])
def test_a_number_that_is_none_gets_a_sentence(cleo: Client, cast: Cast, value: str) -> None:
    answer = cleo.post(room(cast, "add/"), tap(value))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert f"Skaters is “{value}”; allowed is a whole number from 0 to 5000." in page
    assert Headcount.objects.count() == 0


def test_htmx_gets_the_hours_alone(cleo: Client, cast: Cast) -> None:
    answer = cleo.post(room(cast, "add/"), tap(), headers={"HX-Request": "true"})
    assert answer.status_code == 200
    assert answer.content.decode().lstrip().startswith('<section class="card" id="hours"')


def test_a_guest_reads_and_does_not_count(cast: Cast, client: Client) -> None:
    client.force_login(cast.eli)
    assert "headcounts/add" not in client.get(room(cast)).content.decode()
    assert client.post(room(cast, "add/"), tap()).status_code == 404
    assert Headcount.objects.count() == 0


def test_the_page_asks_the_same_number_of_queries_however_many_taps_there_were(
    cleo: Client, cast: Cast
) -> None:
    skaters(cast, 1)
    few = queries_of(cleo, room(cast) + "?day=2026-01-15")
    for minute in range(40):
        skaters(cast, 1, NOW + dt.timedelta(minutes=minute))
    many = queries_of(cleo, room(cast) + "?day=2026-01-15")
    assert few == many
