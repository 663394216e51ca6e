"""A page is there before its scripts are: what is typed or sent in between must not be harmed."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, Route
from pytest_django.live_server_helper import LiveServer

from rinklog.work.models import Entry
from tests.browser.test_work_walk import cast
from tests.support.browser import AWAKE
from tests.support.cast import Cast

__all__ = ["cast"]
pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
TYPED = "2026-01-14T21:30"


class Drowsy:
    """A phone on a form whose scripts come only when they are let through."""

    def __init__(self, page: Page, path: str, kept: str = "") -> None:
        self.page, self.held = page, list[Route]()
        page.route(
            "**/*.js",
            lambda route: self.let(route) if "waking" in route.request.url else self.held.append(route),
        )
        page.route(f"**{path}", lambda route: self.form(route, kept))
        page.evaluate("address => location.assign(address)", path)
        page.wait_for_selector("#work-form", state="attached")
        self.until(lambda: len(self.held) > 0)
        assert not page.evaluate(AWAKE)

    def until(self, true: Callable[[], bool]) -> None:
        for _ in range(400):
            if true():
                return
            self.page.wait_for_timeout(50)
        raise AssertionError("it never came true")

    def let(self, route: Route) -> None:
        route.continue_()

    def form(self, route: Route, kept: str) -> None:
        """The form as the site gives it, or as the service worker gives one that it kept."""
        if route.request.method != "GET" or not kept:
            return route.continue_()
        answer = route.fetch()
        return route.fulfill(
            response=answer, body=answer.text().replace("<html ", f'<html data-kept="{kept}" ', 1)
        )

    def wake(self) -> None:
        self.until(self.woken)

    def woken(self) -> bool:
        while self.held:
            self.held.pop(0).continue_()
        return bool(self.page.evaluate(AWAKE))


@pytest.fixture
def page(cast: Cast, live_server: LiveServer, open_page: Callable[..., Page]) -> Page:
    page = open_page("phone", base_url=live_server.url, person=cast.cleo)
    page.goto(f"/r/{cast.rink.slug}/more/")
    return page


def value(page: Page, name: str) -> Any:
    return page.evaluate("name => document.querySelector('#work-form').elements[name].value", name)


def test_what_was_typed_into_a_kept_page_before_its_scripts_came_stays(cast: Cast, page: Page) -> None:
    drowsy = Drowsy(page, f"/r/{cast.rink.slug}/log/snow-removal/", kept="Wed, 14 Jan 2026 20:00:00 GMT")
    old = value(page, "id")
    page.evaluate("text => { document.querySelector('#work-form').elements.started.value = text; }", TYPED)
    drowsy.wake()
    page.wait_for_function("old => document.querySelector('#work-form').elements.id.value !== old", arg=old)
    assert value(page, "started") == TYPED


def send_snow_removal(page: Page, cast: Cast) -> None:
    """Pick a zone and a tool and save, as the page stands."""
    page.evaluate(
        "zone => { const form = document.querySelector('#work-form');"
        "form.querySelector(`.cell input[value='${zone}']`).checked = true;"
        "form.querySelector('input[name=tools]').checked = true;"
        "form.querySelector('.save-bar button').click(); }",
        cast.zones[0].id,
    )


def test_a_form_sent_before_its_scripts_came_waits_for_them_and_is_sent_once(cast: Cast, page: Page) -> None:
    drowsy = Drowsy(page, f"/r/{cast.rink.slug}/log/snow-removal/")
    send_snow_removal(page, cast)
    page.wait_for_timeout(300)
    assert not Entry.objects.exists()
    drowsy.wake()
    page.wait_for_url("**/entry/**", wait_until="commit")  # its scripts are held, too
    assert Entry.objects.count() == 1


def test_scripts_that_hang_hold_a_form_up_for_some_seconds_only(cast: Cast, page: Page) -> None:
    Drowsy(page, f"/r/{cast.rink.slug}/log/snow-removal/")
    send_snow_removal(page, cast)
    page.wait_for_url("**/entry/**", wait_until="commit", timeout=60_000)  # posted without any script
    assert Entry.objects.count() == 1
