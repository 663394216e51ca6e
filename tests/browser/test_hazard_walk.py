"""A volunteer finds a bump and flags the zone: cone out, photo, how bad. On a phone, in three taps and more."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from rinklog.photos.models import Photo
from rinklog.work.models import Hazard
from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast
from tests.support.photos import a_picture

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast() -> Cast:
    return make_cast()


@pytest.fixture
def phone(open_page: OpenPage, live_server, cast: Cast) -> Page:
    return open_page("phone", base_url=live_server.url, person=cast.cleo)


def tap_on_the_ice(page: Page, along: float, across: float) -> None:
    """Tap the map at shares of the length (from the near end) and of the width (from the left)."""
    box = page.locator(".sheet-grid").bounding_box()
    assert box
    page.touchscreen.tap(box["x"] + across * box["width"], box["y"] + (1 - along) * box["height"])


def test_a_marker_is_up_in_three_taps(phone: Page, cast: Cast, shot) -> None:
    phone.goto(f"/r/{cast.rink.slug}/")
    phone.get_by_role("link", name="Hazard marker").tap()  # one
    tap_on_the_ice(phone, 0.3, 0.35)  # two
    shot(phone, "hazard-new-phone")
    phone.get_by_role("button", name="Put up the marker").tap()  # three
    expect(phone.get_by_role("heading", name="Hazard 1: Bump")).to_be_visible()
    hazard = Hazard.objects.get()
    # 0.3 of 40 m and 0.35 of 20 m, to within two pixels of the map on the screen.
    assert hazard.x_m == pytest.approx(12.0, abs=0.2)
    assert hazard.y_m == pytest.approx(7.0, abs=0.2)
    assert [zone.label for zone in hazard.zones.all()] == ["C2"]
    assert hazard.sent_at is not None


def test_a_bump_with_cone_photo_and_how_bad_is_on_the_map_and_in_the_list(
    phone: Page, cast: Cast, tmp_path: Path, shot
) -> None:
    (tmp_path / "bump.jpg").write_bytes(a_picture(1200, 900))
    (tmp_path / "near.jpg").write_bytes(a_picture(900, 1200))
    (tmp_path / "notes.txt").write_text("not a picture")
    phone.goto(f"/r/{cast.rink.slug}/hazards/new/")
    tap_on_the_ice(phone, 0.6, 0.6)
    phone.get_by_text("dangerous: keep off").tap()
    phone.get_by_text("A cone is out").tap()
    gallery = phone.get_by_label("Gallery")
    gallery.set_input_files([tmp_path / "bump.jpg", tmp_path / "near.jpg"])
    expect(phone.locator(".photo-sent li").get_by_text("sent", exact=True)).to_have_count(2)
    assert Photo.objects.count() == 2  # they left before the hazard
    assert Hazard.objects.count() == 0
    gallery.set_input_files([tmp_path / "notes.txt"])
    expect(phone.get_by_text("notes.txt: This file is not a picture")).to_be_visible()
    shot(phone, "hazard-new-photos-phone")
    phone.get_by_role("button", name="Put up the marker").tap()
    expect(phone.get_by_role("heading", name="Hazard 1: Bump")).to_be_visible()
    expect(phone.locator(".photos img")).to_have_count(2)
    widths = phone.locator(".photos img").evaluate_all(
        "all => Promise.all(all.map(one => { one.loading = 'eager'; return one.decode().then(() => one.naturalWidth); }))"
    )
    assert widths == [400, 300]
    shot(phone, "hazard-page-phone")
    hazard = Hazard.objects.get()
    assert (hazard.state, hazard.cone_out, hazard.severity) == ("marked", True, "danger")
    phone.goto(f"/r/{cast.rink.slug}/")
    assert phone.locator("svg.map .mark-danger .mark-cone").count() == 1
    shot(phone, "home-hazards-phone")
    phone.get_by_role("link", name="Hazards", exact=True).tap()
    expect(phone.get_by_text("1 Bump")).to_be_visible()
    shot(phone, "hazard-list-phone")


def test_a_photo_added_later_appears_in_the_strip(phone: Page, cast: Cast, tmp_path: Path) -> None:
    from tests.support.hazards import put_up

    hazard = put_up(cast)
    (tmp_path / "later.jpg").write_bytes(a_picture())
    phone.goto(f"/r/{cast.rink.slug}/hazard/{hazard.id}/")
    phone.get_by_label("Camera").set_input_files([tmp_path / "later.jpg"])
    expect(phone.locator(".photos img")).to_have_count(1)
    assert Photo.objects.get().subject_id == hazard.id


def test_keys_alone_put_a_marker_on_a_zone(open_page: OpenPage, live_server, cast: Cast, shot) -> None:
    page = open_page("desktop", base_url=live_server.url, person=cast.cleo)
    page.goto(f"/r/{cast.rink.slug}/hazards/new/")
    page.get_by_label("D3", exact=True).focus()
    page.keyboard.press("Space")
    shot(page, "hazard-new-desktop")
    page.get_by_role("button", name="Put up the marker").press("Enter")
    expect(page.get_by_role("heading", name="Hazard 1: Bump")).to_be_visible()
    hazard = Hazard.objects.get()
    assert hazard.x_m is None
    assert [zone.label for zone in hazard.zones.all()] == ["D3"]


def test_without_javascript_a_zone_and_a_photo_make_the_same_hazard(
    open_page: OpenPage, live_server, cast: Cast, tmp_path: Path
) -> None:
    (tmp_path / "bump.jpg").write_bytes(a_picture())
    page = open_page("phone", base_url=live_server.url, person=cast.cleo, javascript=False)
    page.goto(f"/r/{cast.rink.slug}/")
    page.get_by_role("link", name="Hazard marker").tap()
    page.get_by_label("C2", exact=True).tap()
    page.get_by_label("Gallery").set_input_files([tmp_path / "bump.jpg"])
    page.get_by_role("button", name="Put up the marker").tap()
    expect(page.get_by_role("heading", name="Hazard 1: Bump")).to_be_visible()
    expect(page.locator(".photos img")).to_have_count(1)
    assert [zone.label for zone in Hazard.objects.get().zones.all()] == ["C2"]
    page.get_by_role("button", name="Close it").tap()
    page.get_by_role("button", name="Undo").tap()
    expect(page.get_by_text("(taken back)")).to_be_visible()
    assert Hazard.objects.get().state == "found"


def test_saving_does_not_wait_for_a_photo_and_does_not_lose_it(
    phone: Page, cast: Cast, tmp_path: Path
) -> None:
    (tmp_path / "slow.jpg").write_bytes(a_picture())
    phone.goto(f"/r/{cast.rink.slug}/hazards/new/")
    tap_on_the_ice(phone, 0.5, 0.5)
    seen: list[int] = []

    def slowly(route) -> None:
        phone.wait_for_timeout(700)
        seen.append(Hazard.objects.count())
        route.continue_()

    phone.route("**/photos/", slowly)
    phone.get_by_label("Gallery").set_input_files([tmp_path / "slow.jpg"])
    phone.get_by_role("button", name="Put up the marker").tap()
    expect(phone.get_by_role("heading", name="Hazard 1: Bump")).to_be_visible()
    expect(phone.locator(".photos img")).to_have_count(1)


def test_a_photo_without_connection_is_kept_and_sent_again(phone: Page, cast: Cast, tmp_path: Path) -> None:
    (tmp_path / "bump.jpg").write_bytes(a_picture())
    phone.goto(f"/r/{cast.rink.slug}/hazards/new/")
    phone.context.set_offline(True)
    phone.get_by_label("Gallery").set_input_files([tmp_path / "bump.jpg"])
    expect(phone.get_by_text("waits on this phone")).to_be_visible()
    phone.context.set_offline(False)  # it leaves by itself
    for _ in range(100):
        if phone.evaluate("outboxStore.all().then(items => items.length === 0)"):
            break
        phone.wait_for_timeout(100)
    assert Photo.objects.count() == 1
