"""French and Norwegian on a phone: the pages of an evening fit the screen, and what is typed with a comma is right."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from rinklog.records.services import publish
from rinklog.work.models import Entry
from tests.support.cast import NOW, Cast, make_cast
from tests.support.reviews import a_review

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
# Two of the names that stand above every page.
NAMES = {"fr": ("Journal", "Saison"), "nb": ("Logg", "Sesong")}


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    """The named cast, committed, so that the server sees it."""
    made = make_cast()
    publish(rink=made.rink, shown="link", by=made.ada, now=NOW)
    made.flood()
    return made


@pytest.mark.parametrize("language", ["fr", "nb"])
def test_an_evening_fits_a_phone_in_other_words(
    language: str, cast: Cast, live_server: LiveServer, open_page: Callable[..., Page], shot: Any
) -> None:
    cast.ada.language = language
    cast.ada.save()
    page = open_page("phone", base_url=live_server.url, person=cast.ada)
    page.set_default_timeout(60_000)
    wide = []
    for name, path in places(cast):
        page.goto(path)
        assert page.get_attribute("html", "lang") == language
        shot(page, f"{language}-{name}")
        over = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        wide += [f"{name}: {over} px wider than the screen"] if over > 0 else []
    assert wide == []
    page.goto(f"/r/{cast.rink.slug}/")
    told = page.locator("nav.boards-nav").text_content()  # a phone keeps the season under “More”
    assert told
    assert all(word in told for word in NAMES[language])


def test_a_decimal_comma_is_saved_as_it_was_meant(
    cast: Cast, live_server: LiveServer, open_page: Callable[..., Page]
) -> None:
    cast.ada.language = "fr"
    cast.ada.save()
    page = open_page("phone", base_url=live_server.url, person=cast.ada)
    page.set_default_timeout(60_000)
    page.goto(f"/r/{cast.rink.slug}/log/flood/")
    page.locator(f".cell:has(input[value='{cast.zones[0].id}'])").tap()
    page.locator("[name=amount]").fill("412,5")
    page.locator(".save-bar button").tap()
    page.wait_for_selector(".undo-bar")
    assert Entry.objects.latest("recorded_at").water_m3 == pytest.approx(0.4125)


def places(cast: Cast) -> list[tuple[str, str]]:
    """The pages of an evening, and those with the widest words."""
    rink = f"/r/{cast.rink.slug}/"
    return [
        ("home", rink),
        ("flood", f"{rink}log/flood/"),
        ("tonight", f"{rink}tonight/"),
        ("log", f"{rink}log/"),
        ("map", f"{rink}map/"),
        ("hazard", f"{rink}hazards/new/"),
        ("shifts", f"{rink}shifts/"),
        ("more", f"{rink}more/"),
        ("public", f"/p/{cast.rink.slug}/?lang={cast.ada.language}"),
        ("review", f"{rink}season/{a_review(cast)}/review/"),
    ]
