"""Every page of the site, as a phone and a desktop, in light and dark: no axe-core violation, nothing off the screen,
every target large enough for a glove. The pages come from the who-may table, so that none is forgotten."""

from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import Page

from rinklog.work.kinds import KINDS
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast
from tests.web.who_may_table import ANYBODY, SIGNED_IN, TABLE

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

# WCAG 2.2 success criterion 2.5.5 (AAA) asks for 44 px; the crew wears gloves, so ours is 48.
TOUCH_PX = 48
SMALL_TARGETS = """least => [...document.querySelectorAll('a, button, summary, select, input:not([type=hidden])')]
  .filter(e => e.offsetParent !== null && !e.closest('p, dd, td, th, li') && !e.matches('.skip'))
  .map(e => [(e.closest('label') || e).getBoundingClientRect(), e.outerHTML.slice(0, 120)])
  .filter(([box]) => box.width > 0 && (box.height < least - 0.5 || box.width < least - 0.5))
  .map(([box, html]) => `${Math.round(box.width)}×${Math.round(box.height)} ${html}`)"""


def pages(cast: Cast) -> Iterator[tuple[str, str]]:
    """Name and path of every page that answers a GET with 200."""
    for name, row in TABLE.items():
        if row.get != 200:
            continue
        rink: dict[str, Any] = {} if row.needs in (ANYBODY, SIGNED_IN) else {"slug": cast.rink.slug}
        ways = [{"kind": kind} for kind in KINDS] if name == "record" else [row.kwargs(cast)]
        for way in ways:
            yield f"{name}-{way['kind']}" if "kind" in way else name, reverse(name, kwargs=rink | way)


def walk(page: Page, cast: Cast) -> Iterator[str]:
    """Open page after page; yields the name of each that is HTML."""
    for name, path in list(pages(cast)):  # written first: a page still loading pictures must not meet a write
        answer = page.request.get(path)
        if "text/html" not in answer.headers.get("content-type", ""):
            continue
        page.goto(path)
        if page.locator("html[lang]").count():  # a whole page, not a fragment
            yield name


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    made = make_cast()
    made.flood()
    return made


@pytest.mark.slow
@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("device", ["phone", "desktop"])
def test_every_page_can_be_used_by_everybody(
    device: str, theme: str, cast: Cast, open_page: OpenPage, live_server: Any, shot: Any
) -> None:
    page = open_page(device, theme=theme, base_url=live_server.url, person=cast.ada)
    faults: list[str] = []
    seen = 0
    for name in walk(page, cast):
        seen += 1
        shot(page, f"{name}-{device}-{theme}")
        for violation in Axe().run(page).response["violations"]:
            where = violation["nodes"][0]["html"][:140]
            faults.append(f"{name}: {violation['id']}: {where}")
        wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        if wide > 0:
            faults.append(f"{name}: {wide} px wider than the screen")
        if device == "phone":
            faults.extend(
                f"{name}: small target {target}" for target in page.evaluate(SMALL_TARGETS, TOUCH_PX)
            )
    assert seen >= 6
    assert not faults, "\n".join(faults)
