"""Tonight on a phone: the morning look, a flood accepted and kept, and "not tonight" explained. Advice is really made."""

import datetime as dt
from typing import Any
from uuid import uuid4

import pytest
from django.utils import timezone
from pytest_django.live_server_helper import LiveServer

from rinklog.advice.models import Prediction
from rinklog.advice.services import advise
from rinklog.ice.services import project
from rinklog.rink.models import ChosenRule, PhaseChange
from rinklog.work.entry_events import add_event
from rinklog.work.models import Entry
from tests.browser.test_every_page import AXE, misfits, violations
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast
from tests.support.hazards import put_up
from tests.support.winter import foretold, observed, placed

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]
DAY = dt.timedelta(days=1)


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    """The first rink after a cold week until now; its crew floods at any hour, so that the clock does not matter."""
    made = make_cast()
    now = timezone.now()
    placed(made)
    PhaseChange.objects.filter(season__rink=made.rink).update(on=(now - 6 * DAY).date())
    for key, value in (("flood_first_hour", 0.0), ("flood_last_hour", 23.0)):
        ChosenRule.objects.create(rink=made.rink, key=key, value=value, by=made.ada, chosen_at=now)
    observed(made, (now - 7 * DAY).replace(minute=0, second=0, microsecond=0), now)
    return made


def think(cast: Cast, air_c: float, **weather: float) -> None:
    """A forecast of now, the ice, and the advice made of them."""
    now = timezone.now()
    foretold(cast, now - dt.timedelta(minutes=10), 5, air_c=air_c, **weather)
    project(rink=cast.rink, now=now)
    advise(rink=cast.rink, now=now)


def test_the_morning_look_tells_what_is_urgent_and_why(
    cast: Cast, live_server: LiveServer, open_page: OpenPage, shot: Any
) -> None:
    put_up(cast, now=timezone.now() - 3 * DAY, x_m=2.0, y_m=2.0, severity="danger")
    put_up(cast, now=timezone.now() - DAY, x_m=6.0, y_m=6.0, kind="crack", cone_out=True)
    think(cast, -9.0)
    page = open_page("phone", base_url=live_server.url, person=cast.cleo)
    page.goto(f"/r/{cast.rink.slug}/")
    page.locator("a.urgent").tap()
    page.wait_for_selector("h1 >> text=Tonight")
    first = page.locator(".advice-item").first
    assert "Put a cone at hazard 1" in first.inner_text()
    assert page.locator(".advice-item >> text=Flood tonight from").count() == 1
    assert page.locator(".way-name >> text=Scrape").count() == 1
    assert page.locator(".way-name >> text=Slush pack").count() == 1
    assert page.locator(".cautions >> text=fire extinguisher").count() == 1
    page.evaluate(AXE)
    assert violations(page, {}) == []
    assert misfits(page, "phone") == []
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        shot(page, f"tonight-morning-phone-{theme}")
    desk = open_page("desktop", base_url=live_server.url, person=cast.ada)
    desk.goto(f"/r/{cast.rink.slug}/tonight/")
    shot(desk, "tonight-morning-desktop")
    desk.goto(f"/r/{cast.rink.slug}/")
    shot(desk, "tonight-home-desktop")


def test_a_flood_that_was_advised_is_accepted_saved_and_its_prediction_kept(
    cast: Cast, live_server: LiveServer, open_page: OpenPage, shot: Any
) -> None:
    think(cast, -9.0)
    page = open_page("phone", base_url=live_server.url, person=cast.cleo)
    page.goto(f"/r/{cast.rink.slug}/tonight/")
    page.locator("#flood a.side-action").tap()
    page.wait_for_selector("#work-form")
    assert float(page.locator("[name=amount]").input_value()) > 0
    assert page.locator("#coat").inner_text().strip()
    page.locator(".save-bar button").tap()
    page.wait_for_selector(".undo-bar")
    kept = Prediction.objects.get()
    assert kept.root == Entry.objects.get(kind="flood")
    assert page.locator("text=Advice said").count() == 1
    shot(page, "tonight-flood-kept-phone")
    seen = kept.began_at + dt.timedelta(minutes=5)
    add_event(id=uuid4(), entry=kept.root, what="frozen", by=cast.cleo, now=seen, at=seen)
    page.goto(f"/r/{cast.rink.slug}/tonight/")
    assert page.locator("text=1 of 1 that somebody saw").count() == 1


def test_not_tonight_is_explained(
    cast: Cast, live_server: LiveServer, open_page: OpenPage, shot: Any
) -> None:
    think(cast, 6.0)
    page = open_page("phone", base_url=live_server.url, person=cast.cleo, theme="dark")
    page.goto(f"/r/{cast.rink.slug}/tonight/")
    item = page.locator("#not-tonight")
    assert "Not tonight" in item.inner_text()
    assert "this rink floods only up to 0.0 °C" in item.inner_text()
    assert "No good time is in sight" in item.inner_text()
    assert page.locator("#thaw").count() == 1
    shot(page, "tonight-not-phone-dark")
