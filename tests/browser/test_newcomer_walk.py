"""From nothing to the first flood, on a phone: the one-time link, a rink of one's own size in feet, one entry."""

from collections.abc import Callable

import pytest
from django.utils import timezone
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from rinklog.crew.models import Membership
from rinklog.rink.models import Rink
from rinklog.upkeep.services import make_claim_link
from rinklog.work.models import Entry

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def claim(page: Page, token: str) -> None:
    """Become the first keeper, reading feet and gallons."""
    page.goto(f"/claim/{token}/")
    secret = "long cold nights"
    for name, text in {"name": "Una", "login": "una", "password": secret, "again": secret}.items():
        page.fill(f"[name={name}]", text)
    page.select_option("[name=units]", "us")
    page.click("main button[type=submit]")


def make_rink(page: Page) -> None:
    """Make a rink of 85 ft × 40 ft with round corners."""
    page.wait_for_selector("[name=starts_on]")
    for name, text in {
        "name": "Alder Yard",
        "place": "Rimvinkel",
        "time_zone": "America/Chicago",
        "length": "85 ft",
        "width": "40",
        "corner": "6 ft 6 in",
    }.items():
        page.fill(f"[name={name}]", text)
    page.click(".save-bar button")
    page.wait_for_selector("a.kind")


def test_a_newcomer_claims_the_site_makes_a_rink_in_feet_and_logs_the_first_flood(
    live_server: LiveServer, open_page: Callable[..., Page], shot: Callable[[Page, str], object]
) -> None:
    page = open_page("phone", base_url=live_server.url)
    claim(page, make_claim_link(now=timezone.now()))
    make_rink(page)
    rink = Rink.objects.get()
    # 1 ft = 0.3048 m exactly (international yard and pound agreement, 1959).
    assert (rink.length_m, rink.width_m, rink.corner_m) == pytest.approx((25.908, 12.192, 1.9812))
    assert Membership.objects.get().role == "keeper"
    shot(page, "newcomer-home-phone")
    page.tap("a.kind[href$='/log/flood/']")
    page.tap("button.pick[value=whole]")
    page.wait_for_selector(".cell input:checked", state="attached")
    page.fill("[name=amount]", "250")
    page.tap(".save-bar button")
    page.wait_for_selector(".undo-bar")
    flood = Entry.objects.get()
    # 250 US gallons of 231 in³ (3.785411784 l) are 946.35 l.
    assert flood.water_m3 == pytest.approx(0.946352946)
    assert "250 gal" in page.locator("main").inner_text()
    assert flood.zones.count() == flood.season.grid.zones.count()
