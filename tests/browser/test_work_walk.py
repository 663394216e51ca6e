"""Each kind of work on a phone, by thumb: from the rink page to the entry's page."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from rinklog.work.models import Entry, EntryEvent
from tests.support.cast import Cast, make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
MOST_TAPS = 6  # the issue's own figure


class Thumb:
    """Taps and counts them."""

    def __init__(self, page: Page) -> None:
        self.page, self.taps = page, 0

    def tap(self, selector: str) -> None:
        self.taps += 1
        self.page.locator(selector).first.tap()

    def type(self, name: str, text: str) -> None:
        self.page.locator(f"[name={name}]").fill(text)


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    """The named cast, committed, so that the server sees it."""
    return make_cast()


@pytest.fixture
def thumb(cast: Cast, live_server: LiveServer, open_page: Callable[..., Page]) -> Thumb:
    """Cleo's phone on the rink page."""
    page = open_page("phone", base_url=live_server.url, person=cast.cleo)
    page.goto(f"/r/{cast.rink.slug}/")
    return Thumb(page)


def start(thumb: Thumb, kind: str) -> None:
    """From the rink page to the form."""
    thumb.tap(f"a.kind[href$='/log/{kind}/']")
    thumb.page.wait_for_selector("#work-form")


def save(thumb: Thumb) -> Entry:
    """Save, and wait for the entry's page."""
    thumb.tap(".save-bar button")
    thumb.page.wait_for_selector(".undo-bar")
    return Entry.objects.get(state="standing")


def pick(thumb: Thumb, cast: Cast, place: int) -> None:
    """Tap one zone."""
    thumb.tap(f".cell:has(input[value='{cast.zones[place].id}'])")


def test_a_flood_like_the_last_one_takes_at_most_six_taps(cast: Cast, thumb: Thumb) -> None:
    last = cast.flood()
    start(thumb, "flood")
    # A corner zone of 25 m² loses (1 − π/4)·4² = 3.43 m²: 400 l over 46.57 m² are 8.6 mm.
    assert "8.6 mm" in thumb.page.locator("#coat").inner_text()
    thumb.tap(".save-bar button")
    thumb.page.wait_for_selector(".undo-bar")
    assert thumb.taps <= MOST_TAPS
    flood = Entry.objects.exclude(id=last.id).get()
    assert flood.water_m3 == pytest.approx(0.4)
    thumb.tap(".next-events button:has-text('Set now')")
    thumb.page.wait_for_selector(".history >> text=ready for the next coat")
    assert EntryEvent.objects.get().what == "set"


def test_a_first_flood_shows_its_coat_while_it_is_typed(cast: Cast, thumb: Thumb) -> None:
    start(thumb, "flood")
    pick(thumb, cast, 9)
    thumb.type("amount", "250")
    # 250 l over one inner zone of 25 m² are 10 mm.
    thumb.page.wait_for_selector("#coat >> text=10.0 mm")
    assert save(thumb).water_m3 == pytest.approx(0.25)


def test_a_snow_removal(cast: Cast, thumb: Thumb) -> None:
    start(thumb, "snow-removal")
    thumb.tap("button.pick[value=whole]")
    thumb.type("snow_depth_m", "40")
    thumb.tap(".chip:has([value=dry-new])")
    thumb.tap(".chip:has([value=snow-blower])")
    entry = save(thumb)
    assert entry.details == {"snow_depth_m": 0.04, "snow": "dry-new", "tools": ["shovel", "snow-blower"]}
    assert entry.zones.count() == len(cast.zones)


def test_a_patch_hides_the_water_of_a_scrape(cast: Cast, thumb: Thumb) -> None:
    start(thumb, "patch")
    pick(thumb, cast, 9)
    thumb.tap(".chip:has([value=scrape])")
    assert not thumb.page.locator("[name=amount]").is_visible()
    assert save(thumb).details == {"method": "scrape"}


def test_a_torch_repair_asks_for_the_second_person_and_the_safety_points(cast: Cast, thumb: Thumb) -> None:
    start(thumb, "torch-repair")
    pick(thumb, cast, 9)
    thumb.type("flame_minutes", "8")
    thumb.tap(".save-bar button")
    thumb.page.wait_for_selector("text=never used by one person alone")
    thumb.tap(".chip:has([value=Dag])")
    thumb.tap("[name=safety_read]")
    assert save(thumb).details["second_person"] == "Dag"


def test_a_cover_is_laid_and_lifted(cast: Cast, thumb: Thumb) -> None:
    start(thumb, "tarp-melt")
    pick(thumb, cast, 9)
    assert save(thumb).is_open
    thumb.page.goto(f"/r/{cast.rink.slug}/")
    thumb.tap("text=Lift it")
    thumb.tap("button[name=result][value=level]")
    thumb.page.wait_for_selector(".history >> text=melted level")
    assert not Entry.objects.get().is_open


def test_an_inspection_in_two_steps(cast: Cast, thumb: Thumb) -> None:
    start(thumb, "inspection")
    pick(thumb, cast, 9)
    thumb.tap(".chip:has([value=thin])")
    thumb.tap("button[name=mark]")
    thumb.page.wait_for_selector(".cell small")
    pick(thumb, cast, 10)
    thumb.tap(".chip:has([value=good])")
    conditions = {row.zone.label: row.condition for row in save(thumb).zones.all()}
    assert conditions == {cast.zones[9].label: "thin", cast.zones[10].label: "good"}


def test_a_drill_hole(cast: Cast, thumb: Thumb) -> None:
    start(thumb, "drill-hole")
    pick(thumb, cast, 9)
    thumb.type("clear_ice_m", "110")
    thumb.type("white_ice_m", "15")
    assert save(thumb).details == {"clear_ice_m": 0.11, "white_ice_m": 0.015}


def test_without_a_signal_no_coat_stands_that_is_not_of_this_water(thumb: Thumb, cast: Cast) -> None:
    page = thumb.page
    page.goto(f"/r/{cast.rink.slug}/log/flood/")
    thumb.tap("button.pick[value=whole]")
    thumb.type("amount", "400")
    coat = page.locator("#coat")
    coat.get_by_text("mm").wait_for()
    page.context.set_offline(True)
    thumb.type("amount", "800")
    page.wait_for_function("() => document.querySelector('#coat').textContent === ''")
    page.context.set_offline(False)
    thumb.type("amount", "900")
    coat.get_by_text("mm").wait_for()
