"""Every page in every language: what machines read has a point in every number, and no sentence stays English."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from rinklog.crew.rights import Right
from rinklog.work.kinds import KINDS
from tests.house.files import ROOT
from tests.house.gathering import catalogue
from tests.support.cast import Cast
from tests.web.who_may_table import TABLE

# What SVG and number fields read. A list ("points") may hold commas; a decimal comma gives it more numbers.
DRAWN = {
    "x",
    "y",
    "x1",
    "x2",
    "y1",
    "y2",
    "cx",
    "cy",
    "r",
    "rx",
    "ry",
    "dx",
    "dy",
    "width",
    "height",
    "d",
    "points",
}
DRAWN |= {"transform", "viewbox", "min", "max", "step", "stroke-dasharray", "value", "style"}
READ = {"aria-label", "title", "alt", "placeholder"}
NUMBER = re.compile(r"-?\d*\.?\d+")
DECIMAL_COMMA = re.compile(r"-?\d+,\d+")


class Reader(HTMLParser):
    """What machines and what people read of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.drawn: list[str] = []
        self.read: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name in DRAWN or (name.startswith("data-") and not name.endswith("zones")):  # zones are a list
                self.drawn.append(f'{tag} {name}="{value or ""}"')
            elif name in READ:
                self.read.append(" ".join((value or "").split()))

    def handle_data(self, data: str) -> None:
        self.read.append(" ".join(data.split()))


def pages(cast: Cast) -> Iterator[str]:
    """The path of every page that answers a GET with 200."""
    for name, row in TABLE.items():
        if row.get != 200:
            continue
        rink: dict[str, Any] = {"slug": cast.rink.slug} if row.needs in list(Right) else {}
        ways = [{"kind": kind} for kind in KINDS] if name == "record" else [row.kwargs(cast)]
        yield from (reverse(name, kwargs=rink | way) for way in ways)


def read_in(language: str, paths: list[str], cast: Cast) -> dict[str, Reader]:
    """Every page of them that is HTML, in a language."""
    client = Client(headers={"accept-language": language})
    cast.ada.language = language
    cast.ada.save()
    client.force_login(cast.ada)
    answers = {path: client.get(path) for path in paths}
    assert [path for path, answer in answers.items() if answer.status_code != 200] == []
    html = {path: one for path, one in answers.items() if "html" in one.headers.get("Content-Type", "")}
    return {path: Reader(answer.content.decode()) for path, answer in html.items()}


def sentences(language: str) -> set[str]:
    """English sentences without places that this language says in other words."""
    said = catalogue(ROOT / "rinklog" / "locale" / language / "LC_MESSAGES" / "django.po")
    return {
        one.text for one in said if " " in one.text and not one.plural and one.forms[0] not in (one.text, "")
    }


# One language is enough: both write a decimal comma, and what is worded at the wrong moment is English in every one.
@pytest.mark.slow
def test_no_page_has_a_comma_in_a_number_for_machines_or_a_sentence_left_in_english(cast: Cast) -> None:
    language = "fr"
    cast.flood()
    paths = list(pages(cast))
    found = read_in(language, paths, cast)
    assert len(found) > 100
    commas = {
        f"{path}: {one[:100]}" for path, page in found.items() for one in page.drawn if has_decimal_comma(one)
    }
    assert sorted(commas) == []
    english = sentences(language)
    left = {f"{path}: {words}" for path, page in found.items() for words in page.read if words in english}
    assert sorted(left) == []


def has_decimal_comma(attribute: str) -> bool:
    """Whether a value that holds one number, or numbers split by spaces, holds a decimal comma."""
    name, _equals, value = attribute.partition("=")
    if name.endswith((" points", " d", " transform")):
        # "x,y x,y" is two numbers a pair; a third would be a decimal.
        return any(len(NUMBER.findall(pair)) > 2 and pair.count(",") > 1 for pair in value.split())
    return bool(DECIMAL_COMMA.fullmatch(value.strip('"')))


def test_a_decimal_comma_is_seen_where_it_stands() -> None:
    assert has_decimal_comma('rect rx="0,2"')
    assert has_decimal_comma('polygon points="1,5,2 3,4"')
    assert not has_decimal_comma('polygon points="1.5,2 3,4"')
    assert not has_decimal_comma('input value="A1, B2"')
