"""The first fill as a keeper reads it before the first cold week: on a phone and a desk, in light and dark."""

from collections.abc import Callable
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.utils import timezone
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from tests.support.cast import make_cast
from tests.support.filling import basin, building, filled, forecast, hole

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.mark.parametrize("device", ["phone", "desktop"])
def test_the_keeper_reads_when_to_start_and_when_it_carries(
    device: str, live_server: LiveServer, open_page: Callable[..., Page], shot: Any
) -> None:
    cast, now = make_cast(), timezone.now()
    basin(cast)
    forecast(cast, now, gust_ms=12.0)
    building(cast, now)
    filled(cast, now)
    hole(cast, now, clear_m=0.02, under_m=0.048)
    page = open_page(device, base_url=live_server.url, person=cast.ada)
    page.goto(f"/r/{cast.rink.slug}/setup/")
    page.click("text=First fill >> nth=-1")
    page.click("text=Work it out")
    page.wait_for_selector("text=Half of the forecasts")
    assert page.locator("text=A leak is suspected").count() == 1
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        shot(page, f"first-fill-full-{device}-{theme}")
        assert [one["id"] for one in Axe().run(page).response["violations"]] == []
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert wide == 0
    page.goto(f"/r/{cast.rink.slug}/records/opening/set/")
    shot(page, f"opening-set-full-{device}-light")
