"""The weather page as people see it: on a phone and on a desktop, in light and dark, with and without weather."""

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.support.browser import OpenPage
from tests.support.cast import NOW, Cast, make_cast
from tests.support.moment import stand_still
from tests.support.weather_days import a_week_of_weather

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast(transactional_db: None, monkeypatch: pytest.MonkeyPatch) -> Cast:
    stand_still(monkeypatch, NOW)
    return make_cast()


@pytest.mark.parametrize(("device", "width"), [("phone", 390), ("desktop", 1280)])
def test_the_picture_and_the_hours_fit_the_screen(
    device: str, width: int, cast: Cast, open_page: OpenPage, live_server: Any, shot: Any
) -> None:
    a_week_of_weather(cast)
    cast.flood()
    page = open_page(
        device, base_url=live_server.url, person=cast.cleo, viewport={"width": width, "height": 844}
    )
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        for name, path in (("weather", "weather/"), ("log-weather", "log/")):
            page.goto(f"/r/{cast.rink.slug}/{path}")
            shot(page, f"{name}-{width}-{theme}")
            assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.goto(f"/r/{cast.rink.slug}/weather/")
    expect(page.get_by_role("img", name="Weather of the last and the next days")).to_be_visible()
    page.get_by_text("Friday 16 January").click()
    expect(page.get_by_role("region", name="Friday 16 January")).to_be_visible()


def test_a_rink_without_place_and_weather_says_so_and_leads_on(
    cast: Cast, open_page: OpenPage, live_server: Any, shot: Any
) -> None:
    page = open_page("phone", base_url=live_server.url, person=cast.ada)
    page.goto(f"/r/{cast.rink.slug}/weather/")
    shot(page, "weather-nothing")
    expect(page.get_by_text("The rink has no position yet")).to_be_visible()
    page.get_by_role("link", name="Set the position").click()
    expect(page.get_by_role("heading", name="Name and place")).to_be_visible()
