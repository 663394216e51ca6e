"""axe-core on every kind of page that the demo's keeper can reach by links, in light and in dark."""

import tempfile
from collections import deque
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urljoin, urlsplit

from playwright.sync_api import Page, sync_playwright

from tests.bench.measure import Row, comparison
from tests.bench.one import database

LINKS = "() => [...document.querySelectorAll('a[href]')].map(a => a.href)"


@comparison("axe-pages")
def axe_pages() -> Row:
    """Violations of any page, contrast at AAA and target size included; the first of them stand in the note."""
    database()
    from rinklog.archive.demo.people import PASSWORD
    from tests.bench.compare_visit import sign_in
    from tests.support.browser import DEVICES, SWITCHES
    from tests.support.site import Site

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Site(Path(folder) / "site", "--demo").wait_until_healthy(300)
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=SWITCHES)
        try:
            base = f"http://localhost:{site.port}"
            context = browser.new_context(**DEVICES["phone"], base_url=base, bypass_csp=True)
            context.set_default_timeout(60_000)
            home = sign_in(context, PASSWORD)
            found = {kind: faults(page) for kind, page in kinds_of_page(context.new_page(), home)}
        finally:
            browser.close()
            site.stop()
    bad = {kind: told for kind, told in found.items() if told}
    note = f"{len(found)} kinds of page in two themes" + "".join(
        f"; {kind}: {told[0]}" for kind, told in bad.items()
    )
    count = sum(map(len, bad.values()))
    return Row("axe-pages", count, 0, "violations", count, "none", not count and len(found) > 50, note)


def kinds_of_page(page: Page, home: str) -> Iterator[tuple[str, Page]]:
    """Open one page of each kind (name of its address, kind of work) reached by links from home on."""
    seen, waiting = set(), deque([home, urljoin(home, "/me/")])
    while waiting:
        address = waiting.popleft()
        kind = kind_of(address, home)
        if not kind or kind in seen:
            continue
        seen.add(kind)
        answer = page.request.get(address)
        if not answer.ok or "text/html" not in answer.headers["content-type"]:
            continue
        page.goto(address)
        yield kind, page
        waiting.extend(page.evaluate(LINKS))


def kind_of(address: str, home: str) -> str | None:
    """What sort of page an address of this site is, or None for one elsewhere and one that signs out."""
    from django.urls import Resolver404, resolve

    if urlsplit(address).netloc != urlsplit(home).netloc:
        return None
    try:
        match = resolve(urlsplit(address).path)
    except Resolver404:
        return None
    return " ".join(
        [match.url_name or "", *(match.kwargs[key] for key in ("kind", "group") if key in match.kwargs)]
    )


def faults(page: Page) -> list[str]:
    """What axe-core has against the open page in either theme."""
    from tests.browser.test_every_page import AXE, COLOURS, EVERYTHING, violations

    page.evaluate(AXE)
    found = violations(page, EVERYTHING)
    page.emulate_media(color_scheme="dark")
    found += [f"dark, {fault}" for fault in violations(page, COLOURS)]
    page.emulate_media(color_scheme="light")
    return found
