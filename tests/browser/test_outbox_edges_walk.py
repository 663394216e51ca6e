"""A phone in a bad moment: no storage, no room, a lost picture, a wrong clock, two tabs, a site that moved on."""

import datetime as dt
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone
from playwright.sync_api import Browser, Page
from pytest_django.live_server_helper import LiveServer

from rinklog.photos.models import Photo
from rinklog.web.access import At
from rinklog.web.logbook import views
from rinklog.web.logbook.forms import WorkForm
from rinklog.web.offline import precache
from rinklog.work.models import Entry
from rinklog.work.services import Recorded
from tests.browser.test_offline_walk import EMPTY, cast, offline_flood, phone, until
from tests.support.browser import DEVICES, SWITCHES, session_cookie
from tests.support.cast import Cast
from tests.support.photos import a_picture

__all__ = ["cast", "phone"]
pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
JPEG = {"mimeType": "image/jpeg"}


def here(live_server: LiveServer) -> str:
    """The site at a name that counts as secure."""
    return live_server.url.replace("127.0.0.1", "localhost")


def fill(page: Page, cast: Cast, litres: str) -> None:
    """The flood form, filled in and not saved."""
    page.goto(f"/r/{cast.rink.slug}/log/flood/")
    page.locator(f".cell input[value='{cast.zones[0].id}']").check(force=True)  # it may be as last time
    page.locator("[name=amount]").fill(litres)


@pytest.fixture
def came(monkeypatch: pytest.MonkeyPatch) -> list[float | None]:
    """The water of every flood that reached the site, in the order of coming [m³]."""
    water: list[float | None] = []
    save = views.save_new

    def counted(form: WorkForm, at: At) -> Recorded:
        water.append(form.water_m3())
        return save(form, at)

    monkeypatch.setattr(views, "save_new", counted)
    return water


def test_a_new_version_a_new_token_and_a_second_tab_send_what_waits_once(
    cast: Cast,
    phone: Page,
    live_server: LiveServer,
    monkeypatch: pytest.MonkeyPatch,
    came: list[float | None],
) -> None:
    phone.context.set_offline(True)
    for turn in range(3):
        offline_flood(phone, cast, str(400 + turn), turn)
    monkeypatch.setattr(precache, "version", lambda: "newer0version")
    token = {"name": "rinklog_csrf", "value": "b" * 32, "url": here(live_server)}
    phone.context.add_cookies([token])  # type: ignore[list-item]
    second = phone.context.new_page()
    second.goto(f"/r/{cast.rink.slug}/waiting/")  # as kept, without a signal
    phone.context.set_offline(False)
    for page in (phone, second):
        page.evaluate("outboxSend.drain().catch(() => null)")
    for page in (phone, second):
        until(page, EMPTY)
    assert sorted(came) == sorted(Entry.objects.values_list("water_m3", flat=True)) == [0.4, 0.401, 0.402]
    phone.evaluate("navigator.serviceWorker.getRegistration().then(one => one.update())")
    until(phone, "caches.has('kept-newer0version')")
    phone.context.set_offline(True)
    offline_flood(phone, cast, "500")  # the new worker serves
    phone.context.set_offline(False)
    until(phone, EMPTY)
    assert Entry.objects.count() == 4


def test_a_phone_that_keeps_nothing_says_so_before_anybody_types(
    cast: Cast, live_server: LiveServer, open_page: Callable[..., Page], shot: Callable[[Page, str], Path]
) -> None:
    # Chromium has a store even in a private window; others refuse to open it, as this one is made to.
    refuses = "IDBFactory.prototype.open = () => { throw new DOMException('private', 'SecurityError'); }"
    for number, script in enumerate((refuses, "delete Window.prototype.indexedDB; delete window.indexedDB")):
        page = open_page("phone", base_url=here(live_server), person=cast.cleo)
        page.add_init_script(script)
        page.goto(f"/r/{cast.rink.slug}/log/flood/")
        page.get_by_text("This browser keeps nothing").wait_for()
        shot(page, f"outbox-keeps-nothing-{number}")
        fill(page, cast, "400")
        page.locator(".save-bar button").tap()  # with a signal it goes at once
        until(page, "location.pathname.includes('/entry/')")
        assert Entry.objects.count() == number + 1


def test_a_full_phone_says_so_sends_at_once_where_it_can_and_else_loses_nothing_typed(
    cast: Cast, phone: Page, live_server: LiveServer
) -> None:
    # Chromium tells no page how little room there is; others do.
    phone.add_init_script("StorageManager.prototype.estimate = async () => ({ quota: 5e7, usage: 4e7 })")
    quota = phone.context.new_cdp_session(phone)
    room: dict[str, Any] = {"origin": here(live_server), "quotaSize": 1}
    quota.send("Storage.overrideQuotaForOrigin", room)
    fill(phone, cast, "400")
    phone.get_by_text("This phone is nearly full").wait_for()
    phone.locator(".save-bar button").tap()
    until(phone, "location.pathname.includes('/entry/')")
    assert Entry.objects.get().water_m3 == 0.4
    fill(phone, cast, "500")
    phone.context.set_offline(True)
    phone.locator(".save-bar button").tap()
    phone.get_by_text("has no room to keep it").wait_for()
    assert phone.locator("[name=amount]").input_value() == "500"
    quota.send("Storage.overrideQuotaForOrigin", {"origin": here(live_server)})  # somebody made room
    phone.locator(".save-bar button").tap()
    phone.wait_for_url("**/waiting/?kept=*")
    phone.context.set_offline(False)
    until(phone, EMPTY)
    assert sorted(Entry.objects.values_list("water_m3", flat=True)) == [0.4, 0.5]


def test_a_form_gone_back_to_is_another_flood_and_a_picture_that_is_gone_says_so(
    cast: Cast, phone: Page, tmp_path: Path
) -> None:
    phone.context.set_offline(True)
    fill(phone, cast, "400")
    gone = tmp_path / "gone.jpg"
    gone.write_bytes(a_picture())
    # The file leaves the phone between being picked and being read.
    phone.evaluate(
        "addEventListener('change', event => event.stopImmediatePropagation(), { capture: true, once: true })"
    )
    phone.set_input_files("input[name=photos][capture]", str(gone))
    gone.unlink()
    phone.locator("input[name=photos][capture]").dispatch_event("change")
    phone.get_by_text("could not be read; pick it again").wait_for()
    # Two good ones at once, and saved in the same breath: both are kept.
    both: Any = [JPEG | {"name": f"{n}.jpg", "buffer": a_picture(64 + n, 64)} for n in range(2)]
    phone.set_input_files("input[name=photos][multiple]", both)
    phone.locator(".save-bar button").tap()
    phone.wait_for_url("**/waiting/?kept=*")
    phone.go_back()
    id = phone.evaluate("outboxStore.all().then(items => items.find(one => one.url.endsWith('/flood/')).id)")
    phone.evaluate("id => { document.querySelector('#work-form').elements.id.value = id; }", id)
    phone.locator(f".cell:has(input[value='{cast.zones[1].id}'])").tap()
    phone.locator("[name=amount]").fill("600")
    phone.locator(".save-bar button").tap()
    phone.wait_for_url("**/waiting/?kept=*")
    phone.context.set_offline(False)
    until(phone, EMPTY)
    assert sorted(Entry.objects.values_list("water_m3", flat=True)) == [0.4, 0.6]
    assert (
        list(Photo.objects.values_list("subject_id", flat=True)) == [Entry.objects.get(water_m3=0.4).id] * 2
    )


def test_a_kept_picture_that_the_phone_lost_waits_for_a_person_and_the_others_go(
    cast: Cast, live_server: LiveServer, browser: Browser, tmp_path: Path
) -> None:
    # A profile on the disk, as a phone has it: what it keeps can be lost under its hands.
    options: dict[str, Any] = DEVICES["phone"] | {
        "executable_path": shutil.which("chromium"),
        "args": SWITCHES,
    }
    context = browser.browser_type.launch_persistent_context(tmp_path, **options, base_url=here(live_server))
    try:
        context.add_cookies([session_cookie(cast.cleo, here(live_server))])
        page = context.pages[0]
        page.route("**/hello/", lambda route: route.abort())
        page.goto(f"/r/{cast.rink.slug}/log/flood/")
        until(page, "!('asleep' in document.documentElement.dataset)")
        page.locator(f".cell input[value='{cast.zones[0].id}']").check(force=True)
        page.locator("[name=amount]").fill("400")
        picture: Any = JPEG | {"name": "coat.jpg", "buffer": a_picture(640, 480)}
        page.set_input_files("input[name=photos][capture]", picture)
        page.get_by_text("waits on this phone").wait_for()
        page.locator(".save-bar button").tap()
        page.wait_for_url("**/waiting/?kept=*")
        lost = [file for file in tmp_path.rglob("*.blob/**/*") if file.is_file()]
        assert len(lost) == 1
        lost[0].unlink()
        page.unroute("**/hello/")
        page.reload()
        page.get_by_text("The picture is not on this phone any more").wait_for()
        assert (Entry.objects.get().water_m3, Photo.objects.count()) == (0.4, 0)
        page.get_by_role("button", name="Withdraw").tap()
        page.get_by_role("button", name="Remove from this phone").tap()
        until(page, EMPTY)
    finally:
        context.close()


def test_a_clock_that_is_wrong_by_hours_asks_and_can_be_put_right(
    cast: Cast, phone: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone.context.set_offline(True)
    offline_flood(phone, cast)  # the kept form took its time from this phone
    now = timezone.now
    # The phone's clock is three hours ahead of the site's, which is the right one.
    monkeypatch.setattr("rinklog.web.offline.views.timezone.now", lambda: now() - dt.timedelta(hours=3))
    phone.context.set_offline(False)
    phone.get_by_text("clock of this phone is off by 3.0 hours").wait_for()
    assert Entry.objects.count() == 0
    phone.get_by_role("button", name="Correct the time").tap()
    phone.locator("[data-waiting-send]").tap()
    until(phone, EMPTY)
    off = Entry.objects.get().started_at - (now() - dt.timedelta(hours=3))
    assert abs(off) < dt.timedelta(minutes=5)
