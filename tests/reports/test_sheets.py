"""The log sheets: what is on record for a day and for a month."""

import datetime as dt
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.test import Client

from rinklog.reports.sheet import sheet
from rinklog.work.services import withdraw_entry
from tests.support.cast import NOW, Cast
from tests.support.counting import queries_of
from tests.support.records import a_check, an_accident, an_opening, skaters

pytestmark = pytest.mark.django_db
OSLO = ZoneInfo("Europe/Oslo")
DAY, LATER = dt.date(2026, 1, 15), dt.date(2026, 1, 16)


def oslo(text: str) -> dt.datetime:
    """A moment on the rink's clock."""
    return dt.datetime.fromisoformat(text).replace(tzinfo=OSLO)


def a_day(cast: Cast) -> None:
    """Floods on three days, one of them withdrawn, and everything else on the second."""
    cast.flood(now=oslo("2026-01-14T22:00"), water_m3=1.0)
    cast.flood(now=oslo("2026-01-15T00:10"), water_m3=0.4)
    cast.flood(now=oslo("2026-01-15T23:50"), water_m3=0.6)
    wrong = cast.flood(now=oslo("2026-01-15T20:00"), water_m3=5.0)
    withdraw_entry(id=uuid4(), entry=wrong, reason="twice", by=cast.cleo, now=NOW)
    cast.flood(now=oslo("2026-01-16T00:10"), water_m3=0.5)
    hole = {"clear_ice_m": 0.11}
    cast.work("drill-hole", zone_ids=(cast.zones[0].id,), details=hole)
    snow = {"snow_depth_m": 0.06, "tools": ["shovel"]}
    cast.work("snow-removal", now=oslo("2026-01-15T12:00"), details=snow)
    an_opening(cast, "closed", NOW, reason="flood tonight")
    skaters(cast, 5, NOW)
    skaters(cast, 7, NOW + dt.timedelta(hours=1))
    a_check(cast)


def test_a_day_ends_at_the_rinks_midnight_and_the_running_total_goes_on(cast: Cast) -> None:
    a_day(cast)
    one, two = sheet(cast.rink, DAY, LATER, OSLO)
    # Day one: 0.4 + 0.6 m³ after 1.0 m³ before it; the withdrawn 5 m³ never count.
    assert [(line.floods, round(line.total_water_m3, 9)) for line in one.work] == [
        (2, 1.4),
        (2, 1.4),
        (2, 1.4),
        (3, 2.0),
    ]
    assert one.water_m3 == pytest.approx(1.0)
    assert [(line.floods, round(line.total_water_m3, 9)) for line in two.work] == [(4, 2.5)]
    # 400 l over the first two of 8 × 4 zones of a 40 m × 20 m sheet: one of them loses its corner.
    corner_m2 = 4**2 * (1 - 3.141592653589793 / 4)
    assert one.floods[0].coat_m == pytest.approx(0.4 / (50 - corner_m2), rel=1e-6)
    assert (one.skaters, len(one.openings), len(one.walks)) == (12, 1, 1)
    assert (two.skaters, len(two.openings), len(two.walks)) == (0, 0, 0)


@pytest.mark.parametrize("page", ["day/2026-01-15", "month/2026-01"])
def test_the_page_shows_it_in_the_readers_units(cast: Cast, client: Client, page: str) -> None:
    a_day(cast)
    an_accident(cast, "hit the post")
    client.force_login(cast.eli)
    text = client.get(f"/r/{cast.rink.slug}/records/sheets/{page}/").content.decode()
    for expected in ("60 mm", "110.0 mm", "1,000 l", "2,000 l", "closed", "flood tonight", "12", "Bo"):
        assert expected in text, expected
    assert "5,000 l" not in text
    assert "hit the post" not in text  # accident reports are for keeper and coordinators
    cast.eli.water_unit = "gal"
    cast.eli.save()
    # NIST SP 811, appendix B: 1 m³ = 1/3.785 412 E-03 = 264.2 US gallons.
    assert "264 gal" in client.get(f"/r/{cast.rink.slug}/records/sheets/{page}/").content.decode()


@pytest.mark.parametrize("page", ["day/2026-02-30", "day/yesterday", "month/2026-13", "month/2026-1"])
def test_a_day_that_does_not_exist_is_not_found(cast: Cast, client: Client, page: str) -> None:
    client.force_login(cast.eli)
    assert client.get(f"/r/{cast.rink.slug}/records/sheets/{page}/").status_code == 404


def test_the_month_asks_the_same_number_of_queries_however_much_is_on_record(
    cast: Cast, client: Client
) -> None:
    client.force_login(cast.eli)
    path = f"/r/{cast.rink.slug}/records/sheets/month/2026-01/"
    a_day(cast)
    few = queries_of(client, path)
    for number in range(20):
        cast.flood(now=NOW - dt.timedelta(hours=number))
        an_opening(cast, "open", NOW - dt.timedelta(hours=number))
        a_check(cast, at=NOW - dt.timedelta(hours=number))
    many = queries_of(client, path)
    assert few == many
