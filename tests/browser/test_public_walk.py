"""The public page as a skater meets it: on a phone, signed in nowhere, in light and dark; and the keeper who shows it."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.utils import timezone
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from rinklog.archive.demo.fill import fill_demo
from rinklog.crew.models import Person
from rinklog.rink.models import Rink
from rinklog.web.public import kept
from tests.support.cast import make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture(autouse=True)
def _always_fresh(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "KEEP_S", 0.0)


@pytest.fixture
def rink(transactional_db: None) -> Rink:
    """The demo's rink."""
    return fill_demo(now=timezone.now()).rink


@pytest.mark.slow
def test_a_skater_reads_it_on_a_phone_and_a_desk_in_light_and_dark(
    rink: Rink, live_server: LiveServer, open_page: Callable[..., Page], shot: Any
) -> None:
    for device in ("phone", "desktop"):
        page = open_page(device, base_url=live_server.url, locale="en-US", javascript=False)
        page.goto(f"/p/{rink.slug}/")
        assert page.context.cookies() == []
        assert " ft" in page.locator("main").inner_text()
        page.click("text=metres and millimetres")
        assert " ft" not in page.locator("main").inner_text()
        told = set(re.findall(r"\w+", page.locator("body").inner_text()))
        for name in Person.objects.values_list("name", flat=True):
            assert not [word for word in name.split() if word in told]
        for theme in ("light", "dark"):
            page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
            shot(page, f"public-demo-{device}-{theme}")
        wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide == 0


def test_it_has_no_fault_that_axe_knows(
    rink: Rink, live_server: LiveServer, open_page: Callable[..., Page]
) -> None:
    page = open_page("phone", base_url=live_server.url)
    page.goto(f"/p/{rink.slug}/")
    assert [one["id"] for one in Axe().run(page).response["violations"]] == []


def test_the_keeper_shows_it_and_takes_it_away(
    live_server: LiveServer, open_page: Callable[..., Page], shot: Any
) -> None:
    cast = make_cast()
    keeper = open_page("phone", base_url=live_server.url, person=cast.ada)
    stranger = open_page("phone", base_url=live_server.url)

    def choose(shown: str) -> int:
        keeper.goto(f"/r/{cast.rink.slug}/setup/")
        keeper.tap("text=Show it or not")
        shot(keeper, "publicity-phone-light")
        keeper.check(f"[name=shown][value={shown}]", force=True)
        keeper.tap("main button[type=submit]")
        keeper.wait_for_selector("text=Rules of practice")
        return stranger.request.get(
            f"/p/{cast.rink.slug}/"
        ).status  # past the browser's cache of half a minute

    assert [choose(shown) for shown in ("listed", "off")] == [200, 404]
