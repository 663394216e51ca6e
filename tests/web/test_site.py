"""From a level survey to the shopping list; every bad survey is a sentence and never a wrong volume."""

import csv
import datetime as dt
import io
from typing import Any
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from rinklog.geometry.sheet import Lay
from rinklog.site.models import Layout, Survey
from tests.support.cast import Cast
from tests.support.sites import MEADOW, a_layout, a_survey

pytestmark = pytest.mark.django_db


def said(**more: Any) -> dict[str, Any]:
    """A survey as the form sends it."""
    return {
        "id": str(uuid4()), "measured_on": "2025-10-04", "length": "60 m", "width": "30 m", "unit": "m", **more,
    }  # fmt: skip


def materials(**more: str) -> dict[str, str]:
    """What is built with, as the form sends it."""
    return {
        "cover": "50 mm", "board": "0.6 m", "board_length": "2 m", "stake_gap": "1.25 m", "overlap": "0.3 m",
        "net": "2 m", "net_length": "6 m", "reel": "50 m", "gust": "90 km/h", **more,
    }  # fmt: skip


@pytest.fixture
def site(cast: Cast, client: Client) -> str:
    """The address of the site, with the keeper signed in."""
    client.force_login(cast.ada)
    return f"/r/{cast.rink.slug}/setup/site/"


@pytest.mark.parametrize(
    ("heights", "sentence"),
    [
        (
            {"levels": "0.1,0.2\n0.1,"},
            "The survey has a hole in row 2, column 2; every point needs a height.",
        ),
        (
            {"levels": "0.1,0.2\n0.1,0.2,0.3"},
            "Row 2 has 3 heights, the first has 2; every row needs as many.",
        ),
        ({"levels": "0.1,high\n0.1,0.2"}, "Row 1, column 2 is “high”; allowed is a height of at most 100 m"),
        ({"levels": "0.1,nan\n0.1,0.2"}, "Row 1, column 2 is “nan”"),
        ({"levels": "0.1,0.2"}, "The survey is too small; allowed are at least 2 rows of 2 heights."),
        ({"levels": "\n".join(["0.1,0.2"] * 10_000)}, "more than 10000 heights; leave some out."),
        ({}, "No heights came; type four corners or lines, or pick a CSV file."),
        ({"near_left": "1", "far_left": "2"}, "Near right corner is empty; a plane needs all four corners."),
        ({"near_left": "1", "levels": "1,2\n3,4"}, "Heights came in two ways; allowed is one"),
        (
            {"levels": "1,2\n3,4", "unit": "ell"},
            "Unit of the heights is “ell”; allowed are m, cm, mm, ft, in.",
        ),
        (
            {"levels": "1,2\n3,4", "length": "900 m"},
            "Length of the surveyed ground is “900 m”; allowed is 2.00 m to",
        ),
        ({"levels": "1,2\n3,4", "measured_on": "soon"}, "Measured on: allowed is a date such as 2026-12-24."),
    ],
)
def test_a_bad_survey_is_said_in_a_sentence(
    site: str, client: Client, heights: dict[str, str], sentence: str
) -> None:
    answer = client.post(f"{site}survey/", said(**heights))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert not Survey.objects.exists()


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"0.1,0.2\r\n0.3,\r\n", "The survey has a hole in row 2, column 2"),
        (("0.1,0.2\n" * 10_000).encode(), "more than 10000 heights"),
        (b"\x89PNG\x00\xff", "is no text in UTF-8"),
        (b"1,2\n" * 300_000, "has 1200000 bytes; allowed are 1000000."),
        (b"", "too small"),
    ],
)
def test_a_bad_file_is_said_in_a_sentence(site: str, client: Client, content: bytes, sentence: str) -> None:
    file = SimpleUploadedFile("ground.csv", content)
    answer = client.post(f"{site}survey/", said(file=file))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


def test_a_file_and_four_corners_say_the_same(site: str, client: Client) -> None:
    file = SimpleUploadedFile("ground.csv", b"30;30\r\n0;0\r\n")
    assert client.post(f"{site}survey/", said(file=file, unit="cm")).status_code == 302
    # Measured down from a string: 1.20 m at the high end, 1.50 m at the low.
    corners = {
        "near_left": "1.2",
        "near_right": "1,2",
        "far_left": "1.5",
        "far_right": "1.5",
        "downwards": "on",
    }
    assert client.post(f"{site}survey/", said(**corners)).status_code == 302
    typed, filed = Survey.objects.all()
    fall = [[row[0] - typed.levels_m[1][0] for row in survey.levels_m] for survey in (typed,)]
    assert fall == [[pytest.approx(0.3), pytest.approx(0.0)]]
    assert filed.levels_m == [[pytest.approx(0.3)] * 2, [0.0, 0.0]]


def test_the_same_form_twice_is_one_survey_and_another_content_is_told(site: str, client: Client) -> None:
    form = said(levels="0.3,0.3\n0,0")
    assert [client.post(f"{site}survey/", form).status_code for _ in "12"] == [302, 302]
    assert Survey.objects.count() == 1
    again = client.post(f"{site}survey/", form | {"levels": "0.4,0.3\n0,0"})
    assert again.status_code == 422
    assert "open it anew to keep both" in again.content.decode()


def test_the_page_goes_from_levels_to_the_shopping_list(site: str, cast: Cast, client: Client) -> None:
    assert "No survey of the ground yet" in client.get(site).content.decode()
    a_survey(cast)
    assert (
        client.post(f"{site}materials/", materials(lines_at="20; 5", circle_radii="4.5")).status_code == 302
    )
    page = client.get(site).content.decode()
    # The cast's rink is 40 m × 20 m with corners of 4 m on ground that falls 5 mm a metre: 0.20 m in 40 m, on average
    # 0.15 m deep: 0.15 · (800 - (4 - π) · 16) = 117.940 m³.
    for expected in ("117.9 m³", "250 mm", "150 mm", "44.72 m", "Shopping list", "bent boards", "68.27 m"):
        assert expected in page, expected
    assert "have the boards checked" not in page
    rows = list(csv.DictReader(io.StringIO(client.get(f"{site}shopping.csv").content.decode())))
    bought = {row["thing"]: float(row["to_buy"]) for row in rows}
    assert (bought["board"], bought["bent-board"], bought["stake"], bought["rope-light"]) == (44, 16, 96, 2)
    assert bought["water"] == pytest.approx(117.94, abs=0.001)


def test_water_higher_than_the_boards_is_a_sentence_and_no_number(
    site: str, cast: Cast, client: Client
) -> None:
    a_survey(cast, [[1.5, 1.5], [0.0, 0.0]])
    page = client.get(site).content.decode()
    assert "The water would stand 1.05 m deep at the boards, and they are 0.40 m high" in page
    assert "Shopping list" not in page
    answer = client.get(f"{site}shopping.csv")
    assert (answer.status_code, b"1.05 m" in answer.content) == (422, True)
    assert client.post(f"{site}depths/").status_code == 302
    assert {zone.depth_m for zone in cast.zones} == {None}


def test_half_a_metre_at_the_boards_asks_for_somebody_who_answers_for_it(
    site: str, cast: Cast, client: Client
) -> None:
    a_survey(cast, [[0.675, 0.675], [0.0, 0.0]])  # 0.45 m in the 40 m of the rink, and 50 mm: half a metre
    client.post(f"{site}materials/", materials())
    page = client.get(site).content.decode()
    assert "have the boards checked" in page
    assert "High to low is more than 30 cm" in page


def test_diagonals_say_how_far_to_slide_the_far_end(site: str, cast: Cast, client: Client) -> None:
    a_survey(cast)
    page = client.get(site, {"first": "44.85 m", "second": "44.59 m"}).content.decode()
    assert "Slide the far end 0.29 m to the left." in page  # (44.85² - 44.59²) / (4 · 20) = 0.2907
    assert "It is square." in client.get(site, {"first": "44.72", "second": "44.72"}).content.decode()
    assert "is “far”; allowed is" in client.get(site, {"first": "far", "second": "44.72"}).content.decode()


def test_zones_take_the_depths_of_the_survey(site: str, cast: Cast, client: Client) -> None:
    a_survey(cast)
    assert client.post(f"{site}depths/").status_code == 302
    depths = {zone.row: zone.depth_m for zone in cast.zones if zone.column == 1}
    rows = len(depths)
    assert depths[0] < depths[rows - 1]
    # Straight ground: the mean of a row that the corners do not touch is the depth at its middle.
    assert depths[rows // 2] == pytest.approx(0.05 + 0.005 * 40 * (rows // 2 + 0.5) / rows, abs=0.002)


def test_layouts_stand_side_by_side_and_one_is_built(site: str, cast: Cast, client: Client) -> None:
    first = a_layout(cast)
    form = {
        "id": str(uuid4()),
        "name": "moved",
        "x": "21",
        "y": "15",
        "turn": "0",
        "lower": "0",
        "raised": "0",
    }
    assert client.post(f"{site}layouts/new/", form).status_code == 302
    form |= {"id": str(uuid4()), "name": "levelled", "x": "30", "lower": "100 mm"}
    assert client.post(f"{site}layouts/new/", form).status_code == 302
    page = client.get(f"{site}layouts/").content.decode()
    # 40 m of 5 mm a metre fall 200 mm, 100 mm once the top is off; that prism is ½ · 20 m · 0.1 m · 20 m,
    # less two corners of 3.434 m² whose middle lies 0.893 m from the end: 20 - 6.867 · 0.005 · 19.107 = 19.344 m³.
    for expected in ("as last year", "moved", "levelled", "200 mm", "100 mm", "19.3 m³"):
        assert expected in page, expected
    levelled = Layout.objects.get(name="levelled")
    assert Layout.objects.get(chosen=True) == first
    for _ in "12":
        client.post(f"{site}layouts/{levelled.id}/choose/")
    assert Layout.objects.get(chosen=True) == levelled
    assert "Layout: levelled." in client.get(site).content.decode()


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"x": "10"}, "The boards would stand 10.00 m outside the surveyed ground"),
        ({"turn": "45"}, "outside the surveyed ground"),
        (
            {"lower": "150 mm", "raised": "100 mm"},
            "More would be levelled than the ground falls inside the boards",
        ),
        ({"turn": "400"}, "Turned to the right, in degrees is “400”; allowed is -180 to 180."),
        ({"name": ""}, "Name is empty; it is needed."),
    ],
)
def test_a_layout_that_cannot_be_is_a_sentence(
    site: str, cast: Cast, client: Client, change: dict[str, str], sentence: str
) -> None:
    a_survey(cast)
    form = {"id": str(uuid4()), "name": "x", "x": "30", "y": "15", "turn": "0", "lower": "0", "raised": "0"}
    answer = client.post(f"{site}layouts/new/", form | change)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"lines_at": "20; 45"}, "A line at 45.00 m is not on the ice; allowed is between 0 and 40.00 m"),
        ({"circle_radii": "11"}, "A circle of radius 11.00 m does not fit; allowed is up to 10.00 m."),
    ],
)
def test_marks_off_the_ice_are_told_where_they_would_be_bought(
    site: str, cast: Cast, client: Client, change: dict[str, str], sentence: str
) -> None:
    a_survey(cast)
    client.post(f"{site}materials/", materials(**change))
    assert sentence in client.get(site).content.decode()


def test_lengths_that_are_none_are_told(site: str, client: Client) -> None:
    answer = client.post(f"{site}materials/", materials(lines_at="5; blue"))
    assert answer.status_code == 422
    assert "“blue” is no length" in answer.content.decode()


def test_a_volunteer_reads_the_stakes_and_not_the_money(cast: Cast, client: Client) -> None:
    a_survey(cast, MEADOW)
    client.force_login(cast.cleo)
    page = client.get(f"/r/{cast.rink.slug}/setup/site/").content.decode()
    assert "Stakes of a corner" in page
    assert "Cost" not in page
    assert "Give the zones these depths" not in page


def test_the_latest_survey_counts_and_the_earlier_ones_stay(site: str, cast: Cast, client: Client) -> None:
    a_survey(cast)
    client.post(f"{site}survey/", said(levels="0.9,0.9\n0.9,0.9", measured_on=str(dt.date(2025, 10, 5))))
    assert "Ground falls</dt><dd>0 mm" in client.get(site).content.decode().replace("\n", "")
    assert Survey.objects.count() == 2
    assert Lay(1, 2) == Lay(1, 2, 0, 0, 0)
