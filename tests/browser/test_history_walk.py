"""Putting a mistake right on a phone: amend it, withdraw it, undo it at once. Nothing is ever lost from the history."""

from collections.abc import Callable

import pytest
from django.utils import timezone
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from rinklog.work.models import Entry
from tests.support.cast import Cast, make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    return make_cast()


@pytest.fixture
def page(cast: Cast, live_server: LiveServer, open_page: Callable[..., Page]) -> Page:
    """Cleo's phone."""
    return open_page("phone", base_url=live_server.url, person=cast.cleo)


def test_a_wrong_amount_is_amended_and_the_history_shows_both(cast: Cast, page: Page) -> None:
    flood = cast.flood()
    page.goto(f"/r/{cast.rink.slug}/entry/{flood.id}/")
    page.tap("text=Amend")
    page.fill("[name=amount]", "250")
    page.fill("[name=reason]", "read the wrong meter")
    page.tap(".save-bar button")
    page.wait_for_selector(".history del")
    history = page.locator(".history").inner_text()
    assert "400 l" in page.locator(".history del").first.inner_text()
    assert "250 l" in page.locator(".history ins").first.inner_text()
    assert "read the wrong meter" in history
    standing = Entry.objects.get(state="standing")
    assert standing.water_m3 == pytest.approx(0.25)
    assert Entry.objects.get(state="replaced").id == flood.id


def test_an_entry_that_never_was_is_withdrawn_with_its_reason(cast: Cast, page: Page) -> None:
    flood = cast.flood()
    page.goto(f"/r/{cast.rink.slug}/entry/{flood.id}/")
    page.tap("a:has-text('Withdraw')")
    page.tap(".deeds button")  # without a reason
    page.wait_for_selector(".error, .errorlist, [aria-invalid]")
    assert Entry.objects.get().state == "standing"
    page.fill("[name=reason]", "that was the other rink")
    page.tap(".deeds button")
    page.wait_for_selector("text=Withdrawn: it counts in no total.")
    assert "that was the other rink" in page.locator(".history").inner_text()
    assert Entry.objects.get().state == "withdrawn"


def test_a_slip_is_undone_with_one_tap(cast: Cast, page: Page) -> None:
    flood = cast.flood(now=timezone.now())
    page.goto(f"/r/{cast.rink.slug}/entry/{flood.id}/")
    page.tap(".undo-bar button")
    page.wait_for_selector("text=Undone: it counts in no total.")
    assert Entry.objects.get().state == "undone"
    assert page.locator(".undo-bar").count() == 0
