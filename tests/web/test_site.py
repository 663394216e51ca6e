"""From a level survey to the shopping list; every bad survey is a sentence and never a wrong volume."""

import math

import pytest
from django.test import Client

from rinklog.geometry.site import plan_site, read_levels
from tests.support.cast import Cast

SIZE = (40.0, 20.0, 4.0)
ASKED = {"cover": "50 mm", "board": "0.6 m", "board_length": "2 m"}


def test_a_sloping_plane_holds_what_its_wedge_holds() -> None:
    # 40 m × 20 m falling 0.40 m along its length, 50 mm at the high end: mean depth 0.25 m, 200 m³.
    plan = plan_site(
        [[0.4, 0.4], [0.0, 0.0]], SIZE, cover_m=0.05, board_m=0.6, board_length_m=2.0, flow_ls=0.5
    )
    assert plan.basin.volume_m3 == pytest.approx(200.0)
    assert plan.basin.greatest_depth_m == pytest.approx(0.45)
    assert plan.push_nm == pytest.approx(1000 * 9.80665 * 0.45**2 / 2)
    assert plan.hose_h == pytest.approx(200_000 / 0.5 / 3600)
    assert plan.diagonal_m == pytest.approx(math.sqrt(2000))
    # Around: 120 m less 4 corners of 2 × 4 m for a quarter circle of 2π m each: 113.13 m, 57 boards of 2 m.
    assert plan.boards == 57


@pytest.mark.parametrize(
    ("levels", "sentence"),
    [
        ("0.1,0.2\n0.1,", "The survey has a hole in row 2, column 2; every point needs a height."),
        ("0.1,0.2\n0.1,0.2,0.3", "Row 2 has 3 heights, the first has 2; every row needs as many."),
        ("0.1,high\n0.1,0.2", "Row 1, column 2 is “high”; allowed is a height in metres, −100 to 100."),
        ("0.1,nan\n0.1,0.2", "Row 1, column 2 is “nan”"),
        ("0.1,0.2", "The survey is too small; allowed are at least 2 rows of 2 heights."),
        ("\n".join(["0.1,0.2"] * 10_000), "The survey has more than 10000 heights; leave some out."),
        ("0,0\n1,1", "The water would stand 1.05 m deep, and the boards are 0.60 m high"),
    ],
)
@pytest.mark.django_db
def test_a_bad_survey_is_said_in_a_sentence(cast: Cast, client: Client, levels: str, sentence: str) -> None:
    client.force_login(cast.ada)
    answer = client.post(f"/r/{cast.rink.slug}/setup/site/", ASKED | {"levels": levels})
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


@pytest.mark.django_db
def test_the_page_goes_from_levels_to_the_shopping_list(cast: Cast, client: Client) -> None:
    client.force_login(cast.ada)
    page = client.post(
        f"/r/{cast.rink.slug}/setup/site/", ASKED | {"levels": "0.4;0.4\n0;0"}
    ).content.decode()
    for expected in ("200.000 m³", "450", "57 boards", "114 stakes", "44.7", "Shopping list"):
        assert expected in page, expected
    page = client.post(
        f"/r/{cast.rink.slug}/setup/site/", ASKED | {"levels": "0.5;0.5\n0;0"}
    ).content.decode()
    assert "have the boards checked" in page


def test_semicolons_tabs_and_commas_split_a_survey() -> None:
    assert read_levels("0.1;0.2\n0.3;0.4") == read_levels("0.1\t0.2\n0.3\t0.4") == [[0.1, 0.2], [0.3, 0.4]]
