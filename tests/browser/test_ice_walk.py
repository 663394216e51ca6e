"""A morning look at the ice: the map's layers, the page of the estimate, and a drill hole that does not fit."""

from typing import Any

import pytest
from playwright.sync_api import expect

from rinklog.ice.models import HoleQuestion
from rinklog.ice.services import project
from rinklog.rink.models import Zone
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast
from tests.support.winter import at, foretold, observed, placed

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
NOW = at(12, 20, 40)


@pytest.fixture
def drilled(transactional_db: None) -> Cast:
    """Two cold days on a whole rink of uneven depth, a fresh flood at the near end, and a hole of nearly a metre."""
    cast = make_cast()
    placed(cast, rows=8, columns=4)
    for zone in Zone.objects.filter(grid=cast.season.grid):
        Zone.objects.filter(id=zone.id).update(
            depth_m=0.20 - 0.012 * zone.row - 0.01 * zone.column, sun="shade" if zone.column == 0 else "open"
        )
    observed(cast, at(10, 20), at(12, 21))
    foretold(cast, at(12, 20, 30), 1)
    cast.flood(now=at(12, 20), zone_ids=tuple(zone.id for zone in cast.zones[:8]), water_m3=0.8)
    cast.work("drill-hole", now=NOW, started_at=at(12, 9), details={"clear_ice_m": 0.95})
    project(rink=cast.rink, now=NOW)
    return cast


def test_the_keeper_reads_the_estimate_and_answers_for_a_hole(
    drilled: Cast, open_page: OpenPage, live_server: Any, shot: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The task would march on to today's date, in the middle of the request: tests run tasks at once.
    monkeypatch.setattr("rinklog.web.ice.views.soon", lambda *_: None)
    phone = open_page("phone", base_url=live_server.url, person=drilled.cleo)
    phone.goto(f"/r/{drilled.rink.slug}/map/?layer=thickness")
    expect(phone.get_by_text("An estimate never opens the rink")).to_be_visible()
    shot(phone, "ice-thickness-phone")
    for layer in ("Wet", "Snow that lies", "Uncertainty"):
        phone.get_by_role("navigation", name="Layers").get_by_role("link", name=layer, exact=True).click()
        expect(phone.get_by_role("heading", name=f"Rink map: {layer}")).to_be_visible()
        shot(phone, f"ice-{layer.split()[0].lower()}-phone")
    phone.goto(f"/r/{drilled.rink.slug}/ice/")
    shot(phone, "ice-page-phone")
    phone.get_by_role("link", name="950 mm").click()
    shot(phone, "ice-hole-phone")
    phone.get_by_label("It is a mistake: leave it out").check()
    phone.get_by_role("button", name="Save the answer").click()
    expect(phone.get_by_text("the hole is left out")).to_be_visible()
    assert HoleQuestion.objects.get().answer == "mistake"
    desk = open_page("desktop", theme="dark", base_url=live_server.url, person=drilled.ada)
    for path, name in (("map/?layer=thickness", "thickness"), ("ice/", "page")):
        desk.goto(f"/r/{drilled.rink.slug}/{path}")
        shot(desk, f"ice-{name}-desktop-dark")
