"""One frozen object feeds page, PDF, CSV and spreadsheet: the same numbers in all of them, to the last digit."""

import csv
import datetime as dt
import io
from uuid import uuid4

import openpyxl
import pypdf
import pytest
from django.test import Client
from django.utils import timezone

from rinklog.reports.review.files import files_of
from rinklog.reports.review.stored import as_json, for_readers, from_json
from rinklog.reports.review.tables import TREASURER
from rinklog.reports.review.whole import SeasonReview
from rinklog.reports.services import ask_for_review, build_review, gather
from rinklog.work.hazards import add_event as say
from tests.reports.large import generate
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up

pytestmark = pytest.mark.django_db
DAY = dt.timedelta(days=1)


@pytest.fixture
def review(cast: Cast) -> SeasonReview:
    """A season of some hundred entries, with a crack that was repaired and came back."""
    generate(cast, 120)
    crack = put_up(cast, kind="crack", now=NOW - 9 * DAY)
    cast.work("patch", now=NOW - 8 * DAY, hazard_ids=(crack.id,), water_m3=0.02)
    say(id=uuid4(), hazard=crack, state="back-again", by=cast.cleo, now=NOW - 2 * DAY, at=NOW - 2 * DAY)
    return gather(season=cast.season, now=NOW)


def test_a_review_survives_being_kept_as_json(review: SeasonReview) -> None:
    import json

    assert from_json(json.loads(json.dumps(as_json(review)))) == review


def test_the_spreadsheet_read_back_holds_every_cell_of_every_table(review: SeasonReview) -> None:
    content = dict(((name, readers), content) for name, readers, content in files_of(review))
    book = openpyxl.load_workbook(io.BytesIO(content["review.xlsx", TREASURER]), read_only=True)
    tables = for_readers(review, TREASURER)
    assert book.sheetnames == [table.key for table in tables]
    for table in tables:
        rows = list(book[table.key].iter_rows(values_only=True))
        assert list(rows[0])[: len(table.shape.columns)] == [column.key for column in table.shape.columns]
        for row, expected in zip(rows[1:], table.rows, strict=False):
            found = [value or None for value in row[: len(expected)]]
            assert found == [value or None for value in expected], table.key


def test_the_pdf_read_back_says_what_the_csv_files_say(review: SeasonReview) -> None:
    content = dict(((name, readers), content) for name, readers, content in files_of(review))
    pages = pypdf.PdfReader(io.BytesIO(content["review.pdf", TREASURER])).pages
    said = " ".join(page.extract_text() for page in pages).replace("\n", " ")
    words = said.split()
    for key in ("figures", "weeks", "water-by-kind", "labour-by-person", "labour-by-kind", "floods", "held"):
        table = review.table(key)
        for row in table.rows:
            for column, value in zip(table.shape.columns, row, strict=True):
                if column.is_number and value is not None:
                    assert column.text(value) in words, (key, column.key, value)
    assert f"Season {review.season} in review" in said


def test_page_and_csv_say_the_same_digits(cast: Cast, client: Client, review: SeasonReview) -> None:
    built, _due = ask_for_review(season=cast.season, now=timezone.now())
    build_review(id=built.id, now=timezone.now())
    client.force_login(cast.ada)
    path = f"/r/{cast.rink.slug}/season/{cast.season.id}/review/"
    page = client.get(path).content.decode()
    for key in ("weeks", "water-by-kind", "labour-by-kind", "held", "seasons"):
        rows = list(csv.reader(io.StringIO(client.get(f"{path}{key}.csv").content.decode())))
        table = page.partition(f'id="table-{key}"')[2].partition("</table>")[0]
        columns = review.table(key).shape.columns
        for row in rows[1:]:
            for column, text in zip(columns, row, strict=True):
                if column.is_number and text:
                    assert f">{text}</td>" in table, (key, column.key, text)
    for stated in (
        "Unit: one repair of one hazard",
        "Censored: repaired again",
        "harder bumps get the torch",
    ):
        assert stated in page
    assert client.get(path + "review.pdf").content.startswith(b"%PDF")
    assert client.get(path + "review.xlsx").content.startswith(b"PK")
    assert client.get(path + "other.pdf").status_code == 404


def test_files_without_names_and_money_for_those_who_may_not_see_them(review: SeasonReview) -> None:
    for name, readers, content in files_of(review):
        if name == "review.pdf":
            said = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages)
            assert ("Cleo" in said) is (readers in ("crew", "treasurer")), readers
            assert ("Money" in said) is (readers in ("council", "treasurer")), readers


def test_text_that_looks_like_a_formula_stays_text(cast: Cast) -> None:
    cast.flood(note="=1+1", lesson=True)
    for name, readers, content in files_of(gather(season=cast.season, now=NOW)):
        if (name, readers) == ("review.xlsx", TREASURER):
            sheet = openpyxl.load_workbook(io.BytesIO(content))["lessons"]
            assert (sheet["D2"].value, sheet["D2"].data_type) == ("=1+1", "s")
