"""A coordinator assigns the evening flood shifts for the nights that will freeze a coat; a volunteer takes one."""

import datetime as dt

import pytest
from playwright.sync_api import Page, expect

from rinklog.plan.models import Shift
from rinklog.plan.queries.shifts import people_on
from rinklog.plan.services.sweep import question_shifts
from rinklog.telling.models import Message
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast
from tests.support.shifts import SOON, allow
from tests.web.test_shifts import advise

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast() -> Cast:
    made = make_cast()
    allow(made, made.dag, "torch")
    advise(made, dt.datetime.now(dt.UTC) - dt.timedelta(minutes=5), 0.86, 0.74)
    return made


def day(number: int) -> str:
    return f"{SOON + dt.timedelta(days=number):%-d %b}"


@pytest.mark.parametrize("device", ["phone", "desktop"])
def test_two_likely_nights_become_shifts_and_get_their_people_on_one_screen(
    device: str, open_page: OpenPage, live_server, cast: Cast, shot
) -> None:
    page = open_page(device, base_url=live_server.url, person=cast.bo)
    page.goto(f"/r/{cast.rink.slug}/shifts/board/")
    for number in (0, 1):
        page.get_by_role("button", name=f"Make it a shift · {day(number)}").click()
    first, second = Shift.objects.order_by("starts_at")
    page.get_by_role("link", name="2 to find").first.click()
    expect(page.get_by_role("heading", name="Whom to ask")).to_be_visible()
    page.get_by_role("button", name="Put on · Cleo").click()
    expect(page.get_by_role("link", name="1 to find")).to_be_visible()
    shot(page, f"walk-board-{device}")
    page.get_by_role("button", name="Put on · Dag").click()
    expect(page.get_by_text("Every place is taken.")).to_be_visible()
    assert people_on(first) == [cast.cleo, cast.dag]
    assert people_on(second) == []
    assert Message.objects.filter(kind="shift-assigned").count() == 2
    page.get_by_role("link", name="Propose a fair roster").click()
    expect(page.get_by_role("heading", name="Person by person")).to_be_visible()
    page.get_by_role("button", name="Put 2 on and tell them").click()
    expect(page.get_by_text("2 places are filled and told.")).to_be_visible()
    assert len(people_on(second)) == 2


def test_a_volunteer_takes_a_night_and_hears_once_that_the_forecast_called_it_off(
    open_page: OpenPage, live_server, cast: Cast, shot
) -> None:
    desk = open_page("desktop", base_url=live_server.url, person=cast.bo)
    desk.goto(f"/r/{cast.rink.slug}/shifts/board/")
    desk.get_by_role("button", name=f"Make it a shift · {day(0)}").click()
    phone = open_page("phone", base_url=live_server.url, person=cast.cleo)
    phone.goto(f"/r/{cast.rink.slug}/shifts/")
    phone.get_by_role("button", name="I'll come").tap()
    expect(phone.get_by_role("heading", name="You are on", exact=True)).to_be_visible()
    shot(phone, "walk-shifts-phone")
    shift = Shift.objects.get()
    assert people_on(shift) == [cast.cleo]
    turned = SOON - dt.timedelta(hours=20)
    advise(cast, turned, 0.2)
    question_shifts(rink=cast.rink, coordinators=[cast.bo], now=turned)
    desk.goto(f"/r/{cast.rink.slug}/shifts/{shift.id}/")
    expect(desk.get_by_text("Likely to freeze in time: 20 %, it was 86 %.")).to_be_visible()
    desk.get_by_role("button", name="Call it off", exact=True).click()
    expect(desk.get_by_text("Called off", exact=True)).to_be_visible()
    phone.goto(f"/r/{cast.rink.slug}/inbox/")
    expect(phone.get_by_text("Called off: Flood on")).to_have_count(1)
    shot(phone, "walk-inbox-phone")


def test_every_step_works_without_javascript(open_page: OpenPage, live_server, cast: Cast) -> None:
    page: Page = open_page("phone", base_url=live_server.url, person=cast.bo, javascript=False)
    page.goto(f"/r/{cast.rink.slug}/shifts/board/")
    page.get_by_role("button", name=f"Make it a shift · {day(0)}").click()
    page.get_by_role("link", name="2 to find").first.click()
    page.get_by_role("button", name="Put on · Cleo").click()
    shift = Shift.objects.get()
    assert people_on(shift) == [cast.cleo]
    page.goto(f"/r/{cast.rink.slug}/shifts/")
    page.get_by_role("button", name="I'll come").click()
    assert people_on(shift) == [cast.bo, cast.cleo]
