"""A link for the council: read-only, without names, closed for good by the keeper."""

import re
from uuid import uuid4

import pytest
from django.test import Client

from rinklog.reports.models import SharedLink
from rinklog.reports.services import ask_for_review, build_review
from tests.support.cast import NOW, Cast

pytestmark = pytest.mark.django_db


def made(cast: Cast, client: Client, **more: str) -> str:
    """A link as the keeper makes it; returns its path."""
    cast.flood()
    built, _due = ask_for_review(season=cast.season, now=NOW)
    build_review(id=built.id, now=NOW)
    client.force_login(cast.ada)
    page = f"/r/{cast.rink.slug}/season/{cast.season.id}/review/share/"
    assert client.post(page, {"id": str(uuid4()), "for_whom": "the council", **more}).status_code == 302
    (path,) = re.findall(r'href="http://testserver(/shared/[^"]+)"', client.get(page).content.decode())
    return path


def test_whoever_holds_the_link_reads_the_review_without_names(cast: Cast, client: Client) -> None:
    path = made(cast, client)
    stranger = Client()
    answer = stranger.get(path)
    assert answer.status_code == 200
    page = answer.content.decode()
    assert "Water by kind of work" in page
    assert "Cleo" not in page
    assert "Money" not in page
    assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
    assert stranger.get(path + "review.pdf").content.startswith(b"%PDF")
    assert stranger.get(path + "weeks.csv").status_code == 200
    assert stranger.get(path + "labour-by-person.csv").status_code == 404
    assert stranger.get(path + "money.csv").status_code == 404
    assert stranger.post(path).status_code in (200, 403, 405)


def test_the_money_is_shown_only_when_the_keeper_says_so(cast: Cast, client: Client) -> None:
    path = made(cast, client, with_money="on")
    assert Client().get(path + "money.csv").status_code == 200
    assert Client().get(path + "labour-by-person.csv").status_code == 404


def test_a_closed_link_opens_nothing(cast: Cast, client: Client) -> None:
    path = made(cast, client)
    link = SharedLink.objects.get()
    assert client.post(f"/r/{cast.rink.slug}/season/review/links/{link.id}/revoke/").status_code == 302
    assert Client().get(path).status_code == 404
    assert Client().get(path + "review.pdf").status_code == 404
    assert Client().get("/shared/season/guessed/").status_code == 404


def test_the_database_alone_opens_nothing(cast: Cast, client: Client) -> None:
    path = made(cast, client)
    assert SharedLink.objects.get().token_hash not in path
