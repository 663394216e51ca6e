"""A site as shipped, prepared beforehand by the comparison's own process, and a phone that is signed in on it."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, sync_playwright

from tests.bench.one import database
from tests.support.browser import DEVICES, SWITCHES
from tests.support.site import Site

RINK = "bench-rink"


def prepared(rows: int = 8, columns: int = 4) -> str:
    """An empty site with one keeper and one rink of so many zones; returns the keeper's session."""
    database()
    import datetime as dt

    from django.test import Client

    from rinklog.crew.models import Membership, Person
    from rinklog.rink.services import RinkSize, make_rink

    now = dt.datetime.now(dt.UTC)
    rink = make_rink(
        name="Bench Rink", place="Rimvinkel", size=RinkSize(40, 20, 4), time_zone="Europe/Oslo",
        rows=rows, columns=columns, starts_on=now.date() - dt.timedelta(days=30), now=now,
    )  # fmt: skip
    person = Person.objects.create(login="runa", name="Runa Rimlid")
    Membership.objects.create(person=person, rink=rink, role=Membership.Role.KEEPER, since=now)
    assert rink.slug == RINK
    client = Client()
    client.force_login(person)
    return str(client.cookies["rinklog_session"].value)


@contextmanager
def served() -> Iterator[Site]:
    """`up` on the folder of this run."""
    site = Site(Path(os.environ["RINKLOG_DATA"])).wait_until_healthy(180)
    try:
        yield site
    finally:
        site.stop()


@contextmanager
def phone(site: Site, session: str) -> Iterator[BrowserContext]:
    """A signed-in Chromium the size of a phone; localhost counts as secure, so the worker works."""
    base = f"http://localhost:{site.port}"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=SWITCHES)
        yield signed_in(browser, base, session)
        browser.close()


def signed_in(browser: Any, base: str, session: str, **more: Any) -> BrowserContext:
    """A fresh context, with nothing kept, signed in."""
    context: BrowserContext = browser.new_context(**DEVICES["phone"], base_url=base, **more)
    context.add_cookies([{"name": "rinklog_session", "value": session, "url": base}])
    return context


def slowed(page: Page, times: float) -> Any:
    """Slow the processor of a page down; the session keeps it so."""
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": times})
    return session


def until(page: Page, asked: str, seconds: float = 120) -> None:
    """Wait until the page answers yes."""
    for _ in range(int(seconds * 10)):
        if page.evaluate(asked):
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"never came true: {asked}")
