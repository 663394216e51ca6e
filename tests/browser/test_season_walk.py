"""Flow 4: at the season's end the keeper reads what worked, takes the files with the same numbers, and opens the next."""

import csv
import io
from typing import Any

import openpyxl
import pypdf
import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from rinklog.archive.demo.fill import Filled, fill_demo
from rinklog.crew.models import Person
from rinklog.rink.models import Season
from tests.support.browser import OpenPage

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def filled(transactional_db: None) -> Filled:
    """The invented rink with two winters."""
    return fill_demo(now=timezone.now())


def got(page: Page, path: str) -> bytes:
    """A file as the browser would save it."""
    answer = page.request.get(path)
    assert answer.ok, path
    return answer.body()


def test_the_keeper_reviews_the_season_closes_it_and_opens_the_next(
    filled: Filled, open_page: OpenPage, live_server: Any, shot: Any
) -> None:
    keeper = Person.objects.get(login="runa")
    page = open_page("desktop", base_url=live_server.url, person=keeper)
    page.set_default_timeout(60_000)
    page.goto(f"/r/{filled.rink.slug}/")
    page.get_by_role("navigation", name="Pages").get_by_role("link", name="Season").click()
    page.get_by_role("link", name="Season in review").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("in review")
    worked = page.locator("#worked")
    expect(worked).to_contain_text("held longer than the other")
    expect(worked).to_contain_text("Not enough to tell")
    expect(worked).to_contain_text("harder bumps get the torch")
    shot(page, "flow-4-review")
    path = page.url.removeprefix(live_server.url)
    same_water(page, path)
    on_a_phone(open_page, live_server.url, keeper, path, shot)
    page.get_by_role("link", name="Share").click()
    page.get_by_label("For whom").fill("Rimvinkel council")
    page.get_by_role("button", name="Make a link").click()
    link = page.get_by_role("link", name="/shared/season/").get_attribute("href")
    stranger = open_page("phone", base_url=live_server.url)
    stranger.goto(str(link))
    expect(stranger.locator("#worked")).to_contain_text("held longer than the other")
    assert "Odo Spadeholt" not in stranger.content()
    page.goto(path)
    page.get_by_role("link", name="Close the season").click()
    shot(page, "flow-4-close")
    page.get_by_role("button", name="Close the season").click()
    expect(page.locator(".signs")).to_contain_text("is closed; season")
    now_closed, opened = Season.objects.filter(rink=filled.rink).order_by("starts_on")[1:]
    assert now_closed.closed_at is not None
    assert opened.grid_id == now_closed.grid_id


def on_a_phone(open_page: OpenPage, url: str, keeper: Person, path: str, shot: Any) -> None:
    """The same review in a hand: nothing off the screen, the verdict and the files within reach."""
    phone = open_page("phone", base_url=url, person=keeper)
    phone.set_default_timeout(60_000)
    phone.goto(path)
    expect(phone.locator("#worked")).to_contain_text("held longer than the other")
    assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth")
    for name in ("PDF to print", "Spreadsheet"):
        assert got(phone, str(phone.get_by_role("link", name=name).get_attribute("href")))[:2] in (
            b"%P",
            b"PK",
        )
    shot(phone, "flow-4-review-phone")
    phone.goto(path.partition("season/")[0] + "records/loans/")
    expect(phone.get_by_text("Cracked by frost.")).to_be_visible()
    shot(phone, "flow-4-loans-phone")
    phone.goto(path.partition("season/")[0] + "records/dates/")
    shot(phone, "flow-4-dates-phone")
    phone.close()


def same_water(page: Page, path: str) -> None:
    """The season's water in CSV, spreadsheet and PDF is the page's, to the last digit."""
    cells = page.locator("#table-water-by-kind tbody tr").last.locator("td")
    water = cells.nth(1).inner_text()
    rows = list(csv.DictReader(io.StringIO(got(page, path + "water-by-kind.csv").decode())))
    assert rows[-1]["water_m3"] == water
    sheet = openpyxl.load_workbook(io.BytesIO(got(page, path + "review.xlsx")))["water-by-kind"]
    assert f"{sheet.cell(sheet.max_row, 3).value or sheet.cell(len(rows) + 1, 3).value:.3f}" == water
    pages = pypdf.PdfReader(io.BytesIO(got(page, path + "review.pdf"))).pages
    assert water in " ".join(one.extract_text() for one in pages).split()
