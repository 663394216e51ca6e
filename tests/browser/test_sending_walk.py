"""What a phone meets on the way to the site: a guest network that answers for it, an older version of it, a clock that
jumps back between two writings and while it sends. The order of writing holds, and nothing leaves for nowhere."""

import datetime as dt
from collections.abc import Callable
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page, Route
from pytest_django.live_server_helper import LiveServer

from rinklog.work.models import Entry
from tests.browser.test_offline_walk import EMPTY, cast, until
from tests.browser.test_outbox_edges_walk import came, fill
from tests.support.cast import Cast

__all__ = ["came", "cast"]
pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
# The phone's clock, off by as many hours as the test says.
CLOCK = """{ const Real = Date, now = () => Real.now() + Number(localStorage.getItem("test-hours") ?? 0) * 3_600_000;
  self.Date = class extends Real { constructor(...said) { super(...(said.length ? said : [now()])); }
    static now() { return now(); } }; }"""
WAITING = "outboxStore.all().then(items => items.filter(one => one.state === 'waiting').length)"
SEND = "outboxSend.drain().then(() => 'sent', error => String(error))"


def portal(route: Route) -> None:
    """A page of the guest network in place of the answer: status 200, and no word of ours."""
    route.fulfill(
        status=200, content_type="text/html", body="<html><h1>Welcome, accept the terms</h1></html>"
    )


def set_clock(page: Page, hours: int) -> None:
    """Let the phone's clock jump."""
    page.evaluate("hours => localStorage.setItem('test-hours', hours)", hours)


def test_a_guest_network_an_older_site_and_a_clock_that_jumps_back_lose_and_turn_round_nothing(
    cast: Cast, live_server: LiveServer, open_page: Callable[..., Page], came: list[float | None]
) -> None:
    page = open_page("phone", base_url=live_server.url, person=cast.cleo)
    page.context.add_init_script(CLOCK)
    page.route("**/hello/", lambda route: route.abort())
    started: dict[float, dt.datetime] = {}
    for turn, hours in enumerate((0, -3, -2)):
        fill(page, cast, str(400 + turn))
        typed = dt.datetime.fromisoformat(page.locator("[name=started]").input_value())
        started[0.4 + turn / 1000] = typed.replace(tzinfo=ZoneInfo(cast.rink.time_zone))
        set_clock(page, hours)
        page.locator(".save-bar button").tap()
        page.wait_for_url("**/waiting/?kept=*")
    until(page, f"{WAITING}.then(count => count === 3)")

    page.route("**/hello/", portal)  # the guest network answers all
    assert "Error" in page.evaluate(SEND)
    page.route("**/together/", portal)
    page.unroute("**/hello/")  # then only what is posted
    assert "Error" in page.evaluate(SEND)
    assert page.evaluate(WAITING) == 3
    # A site that does not know of many at once, and the guest network in the way of each.
    page.route("**/log/flood/", portal)
    page.route("**/together/", lambda route: route.fulfill(status=404, body="Not found"))
    assert "Error" in page.evaluate(SEND)
    assert (page.evaluate(WAITING), came) == (3, [])

    page.route("**/log/flood/", lambda route: (set_clock(page, -20), route.continue_()))
    assert page.evaluate(SEND) == "sent"
    until(page, EMPTY)
    assert came == [0.4, 0.401, 0.402]
    assert {one.water_m3: one.started_at for one in Entry.objects.all()} == started
