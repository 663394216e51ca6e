"""What a phone downloads on its first visit to home, from the site as shipped."""

import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, sync_playwright

from tests.bench.measure import Row, at_most, comparison
from tests.bench.one import database
from tests.support.browser import DEVICES, SWITCHES
from tests.support.site import Site

MOST_BYTES = 60_000


@comparison("first-visit-bytes")
def first_visit_bytes() -> Row:
    """Every byte on the wire (headers too) of home with an empty cache, against 60 kB."""
    database()  # the demo's password is known only once Django is set up
    from rinklog.archive.demo.people import PASSWORD

    with tempfile.TemporaryDirectory() as folder:
        site = Site(Path(folder) / "site", "--demo").wait_until_healthy(120)
        try:
            transferred = visit(site, PASSWORD)
        finally:
            site.stop()
    note = ", ".join(
        f"{name} {size}" for name, size in sorted(transferred.items(), key=lambda item: -item[1])
    )
    return at_most(
        "first-visit-bytes", sum(transferred.values()), MOST_BYTES, times=1, unit="bytes", note=note
    )


def visit(site: Site, password: str) -> dict[str, int]:
    """Bytes by file, with a session but an empty cache."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=SWITCHES)
        first = browser.new_context(**DEVICES["phone"], ignore_https_errors=True, base_url=site.https_url)
        home = sign_in(first, password)
        second = browser.new_context(**DEVICES["phone"], ignore_https_errors=True)
        second.add_cookies(first.cookies())  # type: ignore[arg-type]
        sizes = transferred_by(second, home)
        browser.close()
    return sizes


def sign_in(context: BrowserContext, password: str) -> str:
    """Sign the demo's keeper in; returns the address of home."""
    page = context.new_page()
    page.goto("/sign-in/")
    page.fill("input[name=username]", "runa")
    page.fill("input[name=password]", password)
    page.click("main button[type=submit]")
    page.wait_for_url("**/r/*/")
    return page.url


def transferred_by(context: BrowserContext, address: str) -> dict[str, int]:
    """Encoded bytes by address, as the browser's own network log counts them."""
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Network.enable")
    names: dict[str, str] = {}
    sizes: dict[str, int] = {}

    def started(event: dict[str, Any]) -> None:
        names[event["requestId"]] = event["request"]["url"].split("?")[0].rstrip("/").rsplit("/", 1)[-1]

    def finished(event: dict[str, Any]) -> None:
        name = names.get(event["requestId"], "other")
        sizes[name] = sizes.get(name, 0) + int(event["encodedDataLength"])

    session.on("Network.requestWillBeSent", started)
    session.on("Network.loadingFinished", finished)
    page.goto(address, wait_until="networkidle")
    return sizes
