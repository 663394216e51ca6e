"""Signs scanned where there is no signal: the right form opens with the place filled in, and what is written waits."""

from collections.abc import Callable
from uuid import uuid4

import pytest
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from rinklog.rink.services import add_bucket_test
from rinklog.work.cones import put_cone
from rinklog.work.models import ConeStand, Entry, Hazard
from tests.browser.test_offline_walk import EMPTY, READY, cast, until
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.signs import a_sign

__all__ = ["cast"]
pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
MAP = "caches.keys().then(names => names.includes('pages')).then(there => there && caches.match('{}')).then(Boolean)"


@pytest.fixture
def coned(cast: Cast) -> Hazard:
    """A hazard with cone 3."""
    hazard = put_up(cast, cone_out=True)
    put_cone(id=uuid4(), hazard=hazard, number=3, at=NOW, by=cast.ada, now=NOW)
    return hazard


@pytest.fixture
def codes(cast: Cast, coned: Hazard) -> dict[str, str]:
    """Signs of every kind, by what they stand for. The hose runs 10 l in 20 s, half a litre a second; A1 was flooded."""
    cast.flood(by=cast.cleo, zone_ids=(cast.zones[0].id,))
    kinds = {"B3": "zone", "right C": "post", "barn": "hose", "7": "cone", "3": "cone"}
    add_bucket_test(
        id=uuid4(), rink=cast.rink, hose="barn", water_m3=0.010, seconds=20.0, by=cast.cleo, now=NOW
    )
    return {place: a_sign(cast, kind, place).code for place, kind in kinds.items()}


@pytest.fixture
def phone(
    cast: Cast, codes: dict[str, str], live_server: LiveServer, open_page: Callable[..., Page], coned: Hazard
) -> Page:
    """Cleo's phone after a first look at the rink page, with the signal gone."""
    base = live_server.url.replace("127.0.0.1", "localhost")
    page = open_page("phone", base_url=base, person=cast.cleo, service_workers="allow")
    page.context.set_default_timeout(60_000)  # many pages are being kept meanwhile
    page.goto(f"/r/{cast.rink.slug}/")
    until(page, READY)
    until(page, MAP.format(f"/r/{cast.rink.slug}/hazard/{coned.id}/"))  # the last that is kept
    page.context.set_offline(True)
    return page


def picked(page: Page) -> list[str]:
    """Labels of the zones that are picked on a form."""
    return [one.text_content() or "" for one in page.locator("label.cell:has(:checked) span").all()]


def save(page: Page) -> None:
    """Save, and see that it waits."""
    page.locator(".save-bar button").tap()
    page.wait_for_url("**/waiting/?kept=*")


def test_signs_open_their_forms_filled_in_without_a_signal(
    cast: Cast, codes: dict[str, str], phone: Page, coned: Hazard
) -> None:
    phone.goto(f"/s/{codes['B3'].lower()}/")
    assert phone.locator("h1").text_content() == "Zone B3"
    phone.locator("a.kind[href*='/log/flood/']").tap()
    until(
        phone, "'kept' in document.documentElement.dataset && !('asleep' in document.documentElement.dataset)"
    )
    assert picked(phone) == ["B3"]
    phone.locator("[name=amount]").fill("400")
    save(phone)

    phone.goto(f"/s/{codes['barn']}/")
    by, flow = phone.locator("[name=by]:checked"), phone.locator("[name=hose_flow_ls]")
    assert (by.get_attribute("value"), flow.input_value()) == ("minutes", "30")  # 0.5 l/s in l/min
    assert picked(phone) == ["A1"]  # a hose says nothing of the place: as last time
    phone.locator("[name=hose_minutes]").fill("10")
    save(phone)

    phone.goto(f"/s/{codes['right C']}/")
    assert (picked(phone), phone.locator("[name=kind]:checked").get_attribute("value")) == (["C4"], "board")

    phone.goto(f"/s/{codes['7']}/")
    cone = phone.locator("[name=cone_number]")
    assert (cone.input_value(), phone.locator("[name=cone_out]").is_checked()) == ("7", True)
    phone.locator(f".cell:has(input[value='{cast.zones[1].id}'])").tap()
    phone.locator("input[name=kind][value=bump]").check(force=True)
    save(phone)

    phone.goto(f"/s/{codes['3']}/")
    phone.get_by_role("button", name="Close it").tap()
    phone.wait_for_url("**/waiting/?kept=*")

    phone.goto("/s/QQQQQQ/")
    assert phone.locator("h1").text_content() == "No signal"
    phone.goto(f"/r/{cast.rink.slug}/waiting/")
    phone.context.set_offline(False)
    until(phone, EMPTY)
    new = Entry.objects.exclude(started_at=NOW)
    water = {str(one.zones.get().zone.label): one.water_m3 for one in new}
    assert water == {"B3": 0.4, "A1": pytest.approx(0.3)}  # 10 min at 30 l/min
    assert Hazard.objects.get(id=coned.id).state == "closed"
    put_out = ConeStand.objects.exclude(hazard=coned).get()
    assert (put_out.number, put_out.hazard.kind) == (7, "bump")


def test_signing_out_takes_the_signs_along_and_the_next_one_is_given_them_anew(
    cast: Cast, codes: dict[str, str], phone: Page
) -> None:
    phone.context.set_offline(False)
    phone.goto("/me/")
    phone.get_by_role("button", name="Sign out here").tap()
    phone.wait_for_url("**/sign-in/**")
    told = f"/r/{cast.rink.slug}/signs.json"
    until(phone, f"caches.open('pages').then(kept => kept.match('{told}')).then(found => !found)")
    assert phone.evaluate("localStorage.getItem('rinklog-kept')") is None
    phone.context.set_offline(True)
    phone.goto(f"/s/{codes['B3']}/")
    assert phone.locator("h1").text_content() == "No signal"


def test_a_repair_begun_at_a_hazards_page_names_the_hazard_and_its_place(
    cast: Cast, phone: Page, coned: Hazard
) -> None:
    phone.goto(f"/r/{cast.rink.slug}/hazard/{coned.id}/")
    phone.locator(".deeds a[href*='/log/patch/']").tap()
    until(
        phone, "'kept' in document.documentElement.dataset && !('asleep' in document.documentElement.dataset)"
    )
    assert picked(phone) == ["C2"]
    assert phone.locator("[name=hazards]:checked").get_attribute("value") == str(coned.id)
    phone.locator("[name=method]").first.check(force=True)
    save(phone)
    phone.context.set_offline(False)
    phone.goto(f"/r/{cast.rink.slug}/")
    until(phone, EMPTY)
    assert [one.hazard for one in Entry.objects.get(kind="patch").hazard_events.all()] == [coned]
