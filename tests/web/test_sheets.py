"""Style sheets within a page for whoever has none of them, links for a phone that keeps them."""

import pytest
from django.test import Client

from rinklog.web import sheets
from rinklog.web.offline import precache
from tests.house.files import files, text
from tests.support.cast import Cast


@pytest.fixture
def client(cast: Cast) -> Client:
    client = Client()
    client.force_login(cast.ada)
    return client


def page(client: Client, cast: Cast) -> str:
    return client.get(f"/r/{cast.rink.slug}/").content.decode()


def test_a_first_visit_waits_for_no_sheet(client: Client, cast: Cast) -> None:
    found = page(client, cast)
    assert found.count("<style>") == 3
    assert 'rel="stylesheet"' not in found
    for name in ("rinklog", "marks", "home"):
        assert text(f"static/css/{name}.css") in found


def test_a_phone_that_keeps_the_sheets_of_today_gets_links(client: Client, cast: Cast) -> None:
    client.cookies[sheets.COOKIE] = precache.version()
    found = client.get(f"/r/{cast.rink.slug}/")
    assert "<style" not in found.content.decode()
    assert found.content.decode().count('rel="stylesheet"') == 3
    assert "sha256" not in found.headers["Content-Security-Policy"]


def test_a_phone_that_keeps_those_of_an_older_version_does_not(client: Client, cast: Cast) -> None:
    client.cookies[sheets.COOKIE] = "0123456789ab"
    assert page(client, cast).count("<style>") == 3


def test_no_sheet_holds_what_would_end_its_element() -> None:
    for name in files(".css", "static"):
        assert "<" not in text(name), name


def test_the_words_for_scripts_carry_the_version(client: Client, cast: Cast) -> None:
    assert f'data-sheets="{precache.version()}"' in page(client, cast)
