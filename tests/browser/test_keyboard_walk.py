"""Flow 1 by keyboard only, from the rink page to the saved flood, with reduced motion: nothing moves by itself."""

from typing import Any

import pytest
from playwright.sync_api import Page

from rinklog.work.models import Entry
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
MOST_TABS = 90


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    return make_cast()


def tab_to(page: Page, selector: str) -> None:
    """Press Tab until the focus is on it and can be seen."""
    for _press in range(MOST_TABS):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement?.matches(selector) ?? false", selector):
            ring = (
                "getComputedStyle(document.activeElement.closest('.chip, .cell') ?? document.activeElement)"
            )
            assert page.evaluate(f"{ring}.outlineStyle") != "none", selector
            return
    pytest.fail(f"{selector} is not reached by {MOST_TABS} tabs")


def test_a_flood_is_written_down_without_touch_or_mouse(
    cast: Cast, open_page: OpenPage, live_server: Any
) -> None:
    page = open_page("desktop", base_url=live_server.url, person=cast.cleo, reduced_motion="reduce")
    page.goto(f"/r/{cast.rink.slug}/")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # skips to the page
    assert page.evaluate("document.activeElement.id") == "main"
    tab_to(page, "a.kind[href$='/log/flood/']")
    page.keyboard.press("Enter")
    page.wait_for_selector("#work-form")
    tab_to(page, f".cell input[value='{cast.zones[0].id}']")
    page.keyboard.press("Space")
    tab_to(page, "[name=amount]")
    page.keyboard.press("Control+A")
    page.keyboard.type("350")
    tab_to(page, ".step[aria-label='Water +50']")
    page.keyboard.press("Enter")
    assert page.locator("[name=amount]").input_value() == "400"
    moving = (
        "[...document.querySelectorAll('*')].filter(e => getComputedStyle(e).animationName !== 'none').length"
    )
    assert page.evaluate(moving) == 0
    tab_to(page, ".save-bar button")
    page.keyboard.press("Enter")
    page.wait_for_selector(".undo-bar", timeout=30_000)
    saved = Entry.objects.get()
    assert (saved.water_m3, [there.zone_id for there in saved.zones.all()]) == (0.4, [cast.zones[0].id])
