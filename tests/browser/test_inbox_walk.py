"""Being told, in a real browser: the count on every page, opening a message, wishes, and a push that rings."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from rinklog.telling.services import make_calendar_link
from tests.support.browser import OpenPage
from tests.support.cast import NOW, Cast, make_cast
from tests.support.messages import tell_one
from tests.telling.conftest import by_mail

__all__ = ["by_mail"]
pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    made = make_cast()
    tell_one(made, made.cleo, text="Thursday evening needs two people; it freezes hard from six.")
    off = "Friday's flood is called off: rain from four in the afternoon."
    tell_one(made, made.cleo, kind="shift-called-off", text=off, url="")
    return made


def unread(page: Page) -> str:
    """What the header says beside Inbox."""
    return page.locator(".boards-inbox").inner_text().replace("\n", " ").replace("unread:", "").strip()


@pytest.mark.parametrize("javascript", [True, False])
def test_a_volunteer_reads_the_inbox_message_by_message(
    javascript: bool, cast: Cast, open_page: OpenPage, live_server: Any
) -> None:
    page = open_page("phone", base_url=live_server.url, person=cast.cleo, javascript=javascript)
    page.goto(f"/r/{cast.rink.slug}/")
    assert unread(page).split() == ["Inbox", "2"]
    page.locator(".boards-inbox").click()
    page.get_by_role("button", name="Thursday evening").click()
    expect(page).to_have_url(f"{live_server.url}/r/{cast.rink.slug}/log/")
    assert unread(page).split() == ["Inbox", "1"]
    page.locator(".boards-inbox").click()
    page.get_by_role("button", name="Mark all as read").click()
    assert unread(page) == "Inbox"
    expect(page.get_by_text("Friday's flood is called off")).to_be_visible()


@pytest.mark.parametrize("device", ["phone", "desktop"])
def test_the_two_pages_are_looked_at(
    device: str, cast: Cast, open_page: OpenPage, live_server: Any, shot: Any, mail_sink: Any, by_mail: Any
) -> None:
    by_mail(cast.cleo)
    tell_one(
        cast, cast.cleo, kind="off-ice-alarm", text="Dag is on the ice since seven and was due off at nine."
    )
    page = open_page(device, base_url=live_server.url, person=cast.cleo)
    make_calendar_link(person=cast.cleo, rink=cast.rink, what="mine", now=NOW)
    rink = f"/r/{cast.rink.slug}"
    pages = {"calendars": f"{rink}/calendar/", "inbox": f"{rink}/inbox/", "telling": "/me/telling/"}
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        for name, path in pages.items():
            page.goto(path)
            shot(page, f"{name}-{device}-{theme}")
    expect(page.get_by_role("heading", name="How you are told")).to_be_visible()


def test_a_push_message_rings_and_carries_where_it_leads(
    cast: Cast, open_page: OpenPage, live_server: Any
) -> None:
    more = {"permissions": ["notifications"], "service_workers": "allow"}
    page = open_page("desktop", base_url=live_server.url, person=cast.cleo, **more)
    line = page.context.new_cdp_session(page)
    seen: list[dict[str, Any]] = []
    line.on("ServiceWorker.workerRegistrationUpdated", lambda event: seen.extend(event["registrations"]))
    line.send("ServiceWorker.enable")
    page.goto("/me/telling/")
    worker = page.locator("[data-push]").get_attribute("data-worker")
    page.evaluate(
        "async (worker) => { await navigator.serviceWorker.register(worker);"
        " const one = await navigator.serviceWorker.getRegistration(worker);"
        " while (!one.active) await new Promise((r) => setTimeout(r, 50)); }",
        worker,
    )
    note = '{"title": "Millpond Rink", "text": "Wind turns at nine.", "url": "/r/millpond-rink/inbox/", "tag": "t"}'
    origin, id = live_server.url, seen[-1]["registrationId"]
    line.send("ServiceWorker.deliverPushMessage", {"origin": origin, "registrationId": id, "data": note})
    rung = page.evaluate(
        "async (worker) => { for (let n = 0; n < 100; n++) {"
        " const all = await (await navigator.serviceWorker.getRegistration(worker)).getNotifications();"
        " if (all.length) return all.map((one) => [one.title, one.body, one.tag, one.data.url]);"
        " await new Promise((r) => setTimeout(r, 50)); } return []; }",
        worker,
    )
    assert rung == [["Millpond Rink", "Wind turns at nine.", "t", "/r/millpond-rink/inbox/"]]
