"""Every page of the site, as a phone and a desktop, in light and dark: no axe-core violation, nothing off the screen,
every target large enough for a glove. The pages come from the who-may table, so that none is forgotten."""

from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import Page

from rinklog.crew.rights import Right
from rinklog.work.kinds import KINDS
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast
from tests.web.who_may_table import TABLE

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
        rink: dict[str, Any] = {"slug": cast.rink.slug} if row.needs in list(Right) else {}
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
@pytest.mark.parametrize("device", ["phone", "desktop"])
def test_every_page_can_be_used_by_everybody(
    device: str, cast: Cast, open_page: OpenPage, live_server: Any, shot: Any
) -> None:
    page = open_page(device, base_url=live_server.url, person=cast.ada)
    faults: list[str] = []
    seen = 0
    for name in walk(page, cast):
        seen += 1
        for theme, rules in THEMES.items():
            page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
            shot(page, f"{name}-{device}-{theme}")
            faults.extend(f"{name}, {theme}: {fault}" for fault in violations(page, rules))
        faults.extend(f"{name}: {fault}" for fault in misfits(page, device))
    assert seen >= 6
    assert not faults, "\n".join(faults)


# Only colours change with the theme, so only the rules about them are asked twice.
THEMES: dict[str, dict[str, Any]] = {
    "light": {},
    "dark": {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}},
}


def violations(page: Page, rules: dict[str, Any]) -> list[str]:
    """What axe-core has against a page."""
    found = Axe().run(page, options=rules).response["violations"]
    return [f"{one['id']}: {one['nodes'][0]['html'][:140]}" for one in found]


def misfits(page: Page, device: str) -> list[str]:
    """What does not fit the screen, and on a phone what is too small for a glove."""
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    found = [f"{wide} px wider than the screen"] if wide > 0 else []
    if device == "phone":
        found.extend(f"small target {target}" for target in page.evaluate(SMALL_TARGETS, TOUCH_PX))
    return found
