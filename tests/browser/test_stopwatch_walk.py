"""The stopwatch of a running flood, in Chromium: one tap to start, one to stop, whatever happens to the app between."""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from rinklog.work.models import Entry
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    return make_cast()


def test_a_flood_is_started_outlives_the_closed_app_and_fills_its_form_when_stopped(
    cast: Cast, open_page: OpenPage, live_server: Any, shot: Any
) -> None:
    page = open_page("phone", base_url=live_server.url, person=cast.cleo)
    home = f"/r/{cast.rink.slug}/"
    # The real time: a phone whose clock is far from the server's is asked about it, which is another walk.
    stopped = dt.datetime.now(dt.UTC).replace(second=0, microsecond=0)
    started = stopped - dt.timedelta(minutes=47)
    here = [moment.astimezone(ZoneInfo("Europe/Oslo")) for moment in (started, stopped)]
    page.clock.set_fixed_time(started)
    page.goto(home)
    page.get_by_role("button", name="Start: Flood").tap()
    page.get_by_text(f"Flood runs since {here[0]:%H:%M}").wait_for()
    shot(page, "stopwatch-home")
    # The app is closed: another page of the same phone, most of an hour later.
    again = page.context.new_page()
    page.close()
    again.clock.set_fixed_time(stopped)
    again.goto(f"{home}log/")
    assert again.get_by_role("timer").inner_text() == "0:47:00"
    again.get_by_role("button", name="Stop").tap()
    again.wait_for_url("**/log/flood/?run=*")
    assert again.locator("[name=started]").input_value() == f"{here[0]:%Y-%m-%dT%H:%M}"
    assert again.locator("[name=ended]").input_value() == f"{here[1]:%Y-%m-%dT%H:%M}"
    assert again.locator("[name^=minutes-]").first.input_value() == "47"
    shot(again, "stopwatch-form")
    # Left without saving: it is not lost.
    again.goto(home)
    again.get_by_text(f"Flood {here[0]:%H:%M}–{here[1]:%H:%M}: not written down yet").wait_for()
    again.get_by_role("button", name="Write it down").tap()
    again.locator("[name=amount]").fill("400")
    again.locator(".cell").first.tap()
    again.get_by_role("button", name="Save", exact=True).tap()
    again.wait_for_url("**/entry/**")
    assert again.locator("[data-running]").is_hidden()
    entry = Entry.objects.get()
    assert (entry.started_at, entry.ended_at) == (started, stopped)


def test_a_run_that_is_forgotten_comes_back_with_one_tap(
    cast: Cast, open_page: OpenPage, live_server: Any
) -> None:
    page = open_page("phone", base_url=live_server.url, person=cast.cleo)
    page.goto(f"/r/{cast.rink.slug}/")
    page.get_by_role("button", name="Start: Snow removal").tap()
    page.get_by_role("button", name="Forget it").tap()
    page.get_by_role("button", name="Undo").tap()
    page.get_by_role("timer").wait_for()
    page.get_by_role("button", name="Forget it").tap()
    page.reload()
    assert page.locator("[data-running]").is_hidden()
