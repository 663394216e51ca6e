"""No signal at the boards: a flood with a photo saved offline is on the server once, when the signal returns."""

import json
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import Error, Page
from pytest_django.live_server_helper import LiveServer

from rinklog.photos.models import Photo
from rinklog.web.access import At
from rinklog.web.logbook import views
from rinklog.web.logbook.forms import WorkForm
from rinklog.work.models import Entry, Hazard
from rinklog.work.services import Recorded
from tests.support.browser import session_cookie
from tests.support.cast import Cast, make_cast
from tests.support.photos import a_picture

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
READY = "navigator.serviceWorker.ready.then(ready => !!ready.active && !!navigator.serviceWorker.controller)"


def until(page: Page, expression: str) -> None:
    """Wait until an expression of the page comes out true; wait_for_function would break our content policy."""
    for _ in range(100):
        with suppress(Error):  # the page changed meanwhile
            if page.evaluate(expression):
                return
        page.wait_for_timeout(150)
    pytest.fail(f"never true: {expression}")


EMPTY = "outboxStore.all().then(items => items.length === 0)"
PHOTO = "[['photo', new File(['black ice'], 'crack.jpg'), 'crack.jpg']]"
BROKEN = f"outboxStore.keep({{ id: 'broken', url: 7, who: null, state: 'waiting', fields: {PHOTO} }})"
REFUSED = f"""outboxStore.keep({{ id: outboxStore.newId(), url: location.pathname, state: 'refused', title: 'Photo',
  summary: '', who: outboxForms.words.person, sentences: ['No.'], fields: {PHOTO} }})"""


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    """The named cast, committed, so that the server sees it."""
    return make_cast()


@pytest.fixture
def phone(cast: Cast, live_server: LiveServer, open_page: Callable[..., Page]) -> Page:
    """Cleo's phone after a first look at the rink page: the worker is installed, the forms are kept."""
    base = live_server.url.replace("127.0.0.1", "localhost")
    page = open_page("phone", base_url=base, person=cast.cleo, service_workers="allow")
    page.goto(f"/r/{cast.rink.slug}/")
    until(page, READY)
    kept = f"caches.open('pages').then(c => c.match('/r/{cast.rink.slug}/log/inspection/')).then(Boolean)"
    until(page, kept)
    return page


def offline_flood(page: Page, cast: Cast, litres: str = "400", zone: int = 0) -> None:
    """Fill in the flood form and save it, with no signal."""
    page.goto(f"/r/{cast.rink.slug}/log/flood/")
    page.locator(f".cell:has(input[value='{cast.zones[zone].id}'])").tap()
    page.locator("[name=amount]").fill(litres)
    page.locator(".save-bar button").tap()
    page.wait_for_url("**/waiting/?kept=*")


def test_a_flood_with_a_photo_saved_without_a_signal_reaches_the_server_once(
    cast: Cast, phone: Page, shot: Callable[[Page, str], Path]
) -> None:
    phone.context.set_offline(True)
    phone.goto(f"/r/{cast.rink.slug}/")
    phone.locator("a.kind[href$='/log/flood/']").tap()
    phone.locator(f".cell:has(input[value='{cast.zones[0].id}'])").tap()
    phone.locator("[name=amount]").fill("400")
    phone.set_input_files(
        "input[name=photos][capture]", {"name": "coat.jpg", "mimeType": "image/jpeg", "buffer": a_picture()}
    )
    phone.get_by_text("waits on this phone").wait_for()
    phone.locator(".save-bar button").tap()
    phone.wait_for_url("**/waiting/?kept=*")
    phone.locator(".waiting-card").nth(1).wait_for()
    shot(phone, "offline-waiting")
    assert Entry.objects.count() == 0
    phone.context.set_offline(False)
    until(phone, EMPTY)  # the signal is back: it leaves by itself
    flood = Entry.objects.get()
    assert (flood.water_m3, flood.by) == (0.4, cast.cleo)
    assert Photo.objects.get().subject_id == flood.id


def test_two_floods_from_the_same_kept_form_are_two_floods(cast: Cast, phone: Page) -> None:
    phone.context.set_offline(True)
    offline_flood(phone, cast, "400", 0)
    offline_flood(phone, cast, "500", 1)
    phone.context.set_offline(False)
    phone.goto(f"/r/{cast.rink.slug}/waiting/")
    until(phone, EMPTY)
    assert sorted(Entry.objects.values_list("water_m3", flat=True)) == [0.4, 0.5]


def test_a_waiting_item_can_be_changed_and_withdrawn_before_it_is_sent(cast: Cast, phone: Page) -> None:
    phone.context.set_offline(True)
    offline_flood(phone, cast, "400", 0)
    offline_flood(phone, cast, "500", 1)
    phone.locator(".waiting-card").nth(1).get_by_role("button", name="Withdraw").tap()
    phone.locator(".waiting-card").first.get_by_role("link", name="Change").tap()
    until(phone, "document.querySelector('[name=amount]')?.value === '400'")
    phone.locator("[name=amount]").fill("450")
    phone.locator(".save-bar button").tap()
    phone.wait_for_url("**/waiting/?kept=*")
    phone.context.set_offline(False)
    until(phone, "outboxStore.all().then(items => items.length === 1)")  # the withdrawn one stays
    assert list(Entry.objects.values_list("water_m3", flat=True)) == [0.45]


def test_a_hazard_put_up_without_a_signal_gets_its_number_when_it_arrives(cast: Cast, phone: Page) -> None:
    phone.context.set_offline(True)
    phone.goto(f"/r/{cast.rink.slug}/hazards/new/")
    phone.locator(f".cell:has(input[value='{cast.zones[0].id}'])").tap()
    phone.locator("input[name=severity][value=trip]").check(force=True)
    phone.locator("input[name=kind][value=bump]").check(force=True)
    phone.locator(".save-bar button").tap()
    phone.wait_for_url("**/waiting/?kept=*")
    phone.context.set_offline(False)
    phone.goto(f"/r/{cast.rink.slug}/")
    until(phone, EMPTY)
    assert Hazard.objects.get().number == 1


def test_what_somebody_else_wrote_on_this_phone_stays_with_them(
    cast: Cast, phone: Page, live_server: LiveServer
) -> None:
    phone.context.set_offline(True)
    offline_flood(phone, cast)
    base = live_server.url.replace("127.0.0.1", "localhost")
    phone.context.add_cookies([session_cookie(cast.dag, base)])
    phone.context.set_offline(False)
    phone.goto(f"/r/{cast.rink.slug}/waiting/")
    phone.get_by_text("Belongs to somebody else").wait_for()
    assert Entry.objects.count() == 0
    phone.context.add_cookies([session_cookie(cast.cleo, base)])
    phone.goto(f"/r/{cast.rink.slug}/")
    until(phone, EMPTY)
    assert Entry.objects.get().by == cast.cleo


def test_a_session_that_ended_keeps_what_waits_and_asks_to_sign_in(
    cast: Cast, phone: Page, live_server: LiveServer
) -> None:
    phone.context.set_offline(True)
    offline_flood(phone, cast)
    phone.context.clear_cookies()
    phone.context.set_offline(False)
    assert not phone.locator("[data-waiting-sign-in]").is_visible()
    phone.locator("[data-waiting-send]").tap()
    phone.locator("[data-waiting-sign-in]").wait_for()
    assert phone.evaluate("outboxStore.all().then(items => items.length)") == 1
    phone.context.add_cookies([session_cookie(cast.cleo, live_server.url.replace("127.0.0.1", "localhost"))])
    phone.locator("[data-waiting-send]").tap()
    phone.get_by_text("All sent.").wait_for()
    phone.locator("[data-waiting-send]").wait_for(state="hidden")  # nothing is left that it could send
    assert Entry.objects.get().by == cast.cleo


def test_an_item_that_cannot_be_read_is_kept_aside_and_stops_nobody(cast: Cast, phone: Page) -> None:
    phone.context.set_offline(True)
    phone.evaluate(BROKEN)
    offline_flood(phone, cast)
    phone.context.set_offline(False)
    until(phone, EMPTY)
    assert Entry.objects.count() == 1
    phone.get_by_text("could not be read any more").wait_for()
    assert "broken" in json.dumps(phone.evaluate("outboxStore.aside()"))
    assert json.loads(taken_out(phone, ".json"))["item"]["id"] == "broken"
    assert taken_out(phone, "crack.jpg") == "black ice"


def test_a_photo_that_the_site_refuses_can_be_taken_out_as_a_file(cast: Cast, phone: Page) -> None:
    phone.evaluate(REFUSED)
    phone.goto(f"/r/{cast.rink.slug}/waiting/")
    assert taken_out(phone, "crack.jpg") == "black ice"
    phone.get_by_role("button", name="Withdraw").tap()
    phone.get_by_role("button", name="Put it back").wait_for()
    assert phone.get_by_role("link", name="crack.jpg").count() == 0


def taken_out(phone: Page, name: str) -> str:
    """The words of a file that the page of what waits gives out."""
    with phone.expect_download() as taken:
        phone.get_by_role("link", name=name).tap()
    assert taken.value.suggested_filename.endswith(name)
    return Path(taken.value.path()).read_text()


def test_signing_out_with_waiting_items_asks_first(cast: Cast, phone: Page) -> None:
    phone.goto("/me/")
    phone.goto(f"/r/{cast.rink.slug}/")
    phone.context.set_offline(True)
    offline_flood(phone, cast)
    phone.goto("/me/")
    for name in ("Sign out here", "Sign out on every device"):
        phone.get_by_role("button", name=name).tap()
        phone.locator("form", has_text=name).get_by_text("still wait on this phone").wait_for()
    assert phone.evaluate("outboxStore.all().then(items => items.length)") == 1
    assert phone.url.endswith("/me/")
    # Without anything waiting it goes at once.
    phone.evaluate("outboxStore.all().then(items => outboxStore.drop(items[0].turn))")
    phone.context.set_offline(False)
    phone.goto("/me/")
    phone.get_by_role("button", name="Sign out here").tap()
    phone.wait_for_url("**/sign-in/**")


def test_the_map_and_the_log_show_what_waits(cast: Cast, phone: Page) -> None:
    phone.goto(f"/r/{cast.rink.slug}/log/")
    phone.context.set_offline(True)
    offline_flood(phone, cast)
    phone.goto(f"/r/{cast.rink.slug}/")
    marked = phone.locator(".zone-waiting")
    marked.first.wait_for()
    assert [zone.get_attribute("data-zone") for zone in marked.all()] == [str(cast.zones[0].id)]
    phone.goto(f"/r/{cast.rink.slug}/log/")
    phone.locator(".waiting-in-log").wait_for()
    assert Entry.objects.count() == 0


def test_an_item_the_server_stumbles_over_does_not_hold_up_the_others(
    cast: Cast, phone: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone.context.set_offline(True)
    offline_flood(phone, cast, "400", 0)
    offline_flood(phone, cast, "500", 1)
    save = views.save_new
    broken = True

    def stumbling(form: WorkForm, at: At) -> Recorded:
        if broken and form.water_m3() == 0.4:
            raise RuntimeError
        return save(form, at)

    monkeypatch.setattr(views, "save_new", stumbling)
    phone.context.set_offline(False)
    until(phone, "outboxStore.all().then(items => items.length === 1)")
    assert Entry.objects.get().water_m3 == 0.5
    broken = False
    phone.locator("[data-waiting-send]").tap()
    until(phone, EMPTY)
    assert sorted(Entry.objects.values_list("water_m3", flat=True)) == [0.4, 0.5]
