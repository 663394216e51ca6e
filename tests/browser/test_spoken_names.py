"""Names and states as a screen reader gets them, from Chromium's accessibility tree; and nothing moves by itself.

Roles and states: WAI-ARIA 1.2; the snapshot writes `- role "name" [state]`, one node a line.
"""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
# WAI-ARIA 1.2: roles of widgets that a person acts on; each must have a name (5.2.8, accessible name required).
WIDGETS = (
    "button|link|checkbox|radio|textbox|searchbox|combobox|listbox|spinbutton|slider|switch|tab|menuitem"
)
NAMELESS = re.compile(rf'^\s*- (?:{WIDGETS})(?! "[^"]*\w)(?: .*|:.*)?$', re.MULTILINE)
PLACES = ("", "log/", "log/flood/", "map/", "hazards/new/", "waiting/", "tonight/")
PATIENCE_MS = 60_000
# What a sheet may come to ask for, on any element or beside it; then what still moves for longer than 1 ms.
MOVING = """() => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`@keyframes sway { to { opacity: .5 } }
    main *, main *::before, main *::after { transition: all 2s; animation: sway 2s infinite }`);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  const long = (style) => [...style.transitionDuration.split(','), ...style.animationDuration.split(',')]
    .some((words) => parseFloat(words) > .001);
  const found = [...document.querySelectorAll('*')]
    .filter((e) => [null, '::before', '::after'].some((beside) => long(getComputedStyle(e, beside))));
  return found.length + document.getAnimations().length;
}"""


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    made = make_cast()
    made.flood()
    return made


@pytest.fixture
def page(cast: Cast, open_page: OpenPage, live_server: Any) -> Page:
    opened = open_page("phone", base_url=live_server.url, person=cast.ada, reduced_motion="reduce")
    opened.set_default_timeout(PATIENCE_MS)
    return opened


def test_the_pattern_finds_what_has_no_name() -> None:
    said = '- button "Save"\n- button\n- textbox: "5"\n- link "":\n- checkbox "A1" [checked]\n- button "−"'
    assert NAMELESS.findall(said) == ["- button", '- textbox: "5"', '- link "":', '- button "−"']


def test_every_widget_has_a_name_and_nothing_moves_by_itself(cast: Cast, page: Page) -> None:
    faults = []
    for place in PLACES:
        page.goto(f"/r/{cast.rink.slug}/{place}")
        said = page.locator("body").aria_snapshot()
        assert len(re.findall(rf"- (?:{WIDGETS}) ", said)) >= 8
        faults += [f"{place}: {line.strip()}" for line in NAMELESS.findall(said)]
        here = page.locator(".boards [aria-current=page]").all_inner_texts()
        own = place in ("", "log/", "tonight/")
        faults += [f"{place}: says to be at {here}"] if bool(here) != own else []
        faults += [f"{place}: {page.evaluate(MOVING)} things move"] if page.evaluate(MOVING) else []
    assert faults == []


def test_the_flood_form_says_zones_steps_and_its_deed(cast: Cast, page: Page) -> None:
    page.goto(f"/r/{cast.rink.slug}/log/flood/")
    cell = page.get_by_role("checkbox", name="B1", exact=True)
    main = page.locator("main")
    assert '- checkbox "B1"\n' in main.aria_snapshot() + "\n"
    cell.locator("xpath=..").tap()
    said = main.aria_snapshot()
    assert '- checkbox "B1" [checked]' in said
    cell.locator("xpath=..").tap()
    assert '- checkbox "B1" [checked]' not in main.aria_snapshot()
    assert all(f'- button "Water {way}50"' in said for way in ("−", "+"))
    assert '- button "Save"' in said
    assert re.search(r'- group "Zones":', said)


def test_what_waits_is_announced(cast: Cast, page: Page) -> None:
    page.goto(f"/r/{cast.rink.slug}/log/flood/")
    page.route("**/*", lambda route: route.abort() if route.request.method == "POST" else route.continue_())
    page.locator("[name=amount]").fill("400")
    page.locator(".save-bar button").tap()
    page.wait_for_url("**/waiting/?kept=*")
    page.goto(f"/r/{cast.rink.slug}/log/")
    expect(page.locator("[data-outbox-count]")).to_be_visible()
    assert re.search(r'- status:\n\s+- link "1 waiting on this phone"', page.locator("main").aria_snapshot())
