"""A coordinator walks round the rink with a phone, opens it after drilling, and counts the skaters."""

from urllib.parse import urlparse

import pytest
from playwright.sync_api import expect

from rinklog.records.models import Check, Headcount, Opening
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    return make_cast()


@pytest.mark.parametrize("javascript", [True, False], ids=["with script", "without script"])
def test_a_walk_an_opening_and_a_headcount_from_a_phone(
    open_page: OpenPage, live_server, cast: Cast, javascript: bool
) -> None:  # type: ignore[no-untyped-def]
    page = open_page("phone", base_url=live_server.url, person=cast.bo, javascript=javascript)
    records = f"/r/{cast.rink.slug}/records/"
    page.goto(records)
    page.get_by_role("link", name="Daily walk", exact=True).click()
    boards = page.get_by_role("group", name="Boards: nails, screws, splinters, gaps")
    boards.get_by_text("wants repair").click()
    boards.get_by_role("textbox").fill("a nail at the gate")
    page.get_by_label("Told whom").fill("Ada")
    page.get_by_role("button", name="Save: I looked at the rest, it is in order").click()
    page.wait_for_url("**/records/checks/**")
    walk = Check.objects.get()
    answers = list(walk.lines.values_list("answer", flat=True))
    assert (answers.count("repair"), answers.count("good"), len(answers)) == (1, 9, 10)
    assert (walk.told_whom, walk.by) == ("Ada", cast.bo)

    page.goto(records)
    page.get_by_role("link", name="Set open or closed").click()
    page.get_by_role("button", name="Save").click()  # nothing picked: nothing is opened
    assert Opening.objects.count() == 0
    page.goto(f"{records}opening/set/")
    page.get_by_text("Partly open", exact=True).click()
    page.get_by_label("Reason").fill("far end soft")
    page.get_by_role("button", name="Save").click()
    page.wait_for_url("**/records/opening/")
    assert page.get_by_text("far end soft").first.is_visible()
    assert Opening.objects.get().state == "partly"

    page.goto(f"{records}headcounts/")
    for tap in ("+5", "+5", "+1"):
        page.get_by_role("button", name=tap, exact=True).click()
    expect(page.locator(".big-number strong")).to_have_text("11")
    assert sorted(Headcount.objects.values_list("skaters", flat=True)) == [1, 5, 5]
    assert urlparse(page.url).path.endswith("/headcounts/")
