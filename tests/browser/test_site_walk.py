"""From a level survey to the shopping list on a phone."""

from typing import Any

import pytest

from tests.support.browser import OpenPage
from tests.support.cast import Cast, make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

GRID = "\n".join(
    ";".join(f"{2 * row + column + (3 if row == column else 0)}" for column in range(5)) for row in range(8)
)


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    return make_cast()


@pytest.mark.slow
def test_a_keeper_goes_from_levels_to_the_shopping_list(
    cast: Cast, open_page: OpenPage, live_server: Any, shot: Any
) -> None:
    page = open_page(
        "phone", base_url=live_server.url, person=cast.ada, viewport={"width": 390, "height": 800}
    )
    base = f"/r/{cast.rink.slug}/setup/"
    page.goto(f"{base}site/")
    page.get_by_role("link", name="Survey the ground").click()
    page.get_by_label("Length of the surveyed ground").fill("56 m")
    page.get_by_label("Width of the surveyed ground").fill("32 m")
    page.get_by_label("Unit of the heights").select_option("cm")
    page.get_by_label("Heights, each line").fill(GRID.replace("14", "", 1))
    page.get_by_role("button", name="Keep the survey").click()
    page.get_by_text("The survey has a hole in row").wait_for()
    page.get_by_label("Heights, each line").fill(GRID)
    page.get_by_role("button", name="Keep the survey").click()
    page.get_by_role("heading", name="Shopping list", exact=True).wait_for()
    page.get_by_role("link", name="Boards, nets, rope light").click()
    page.get_by_label("Height of the nets").fill("1.5 m")
    page.get_by_label("Rope light across the ice").fill("3; 20; 37")
    page.get_by_role("button", name="Work it out").click()
    page.get_by_role("link", name="Layouts side by side").click()
    for name, turn, lower in (("as it lies", "0", "0"), ("turned and levelled", "10", "50 mm")):
        page.get_by_role("link", name="Add a layout").click()
        page.get_by_label("Name").fill(name)
        page.get_by_label("Turned to the right").fill(turn)
        page.get_by_label("Taken off").fill(lower)
        page.get_by_role("button", name="Save the layout").click()
    page.get_by_role("button", name="Build by this · turned and levelled").click()
    page.goto(f"{base}site/")
    assert "Layout: turned and levelled." in page.content()
    with page.expect_download() as kept:
        page.get_by_role("link", name="As CSV").click()
    assert "bent-board" in kept.value.path().read_text()
    shot(page, "site-plan")
