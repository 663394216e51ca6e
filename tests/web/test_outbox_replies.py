"""A phone that sends what waited on it gets short answers it can act on."""

from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from rinklog.web.offline.replies import sentences
from rinklog.work.models import Entry
from tests.support.cast import Cast

pytestmark = pytest.mark.django_db
OUTBOX = {"X-Outbox": "1"}


def a_post(cast: Cast, **more: Any) -> dict[str, Any]:
    """A snow removal as its form sends it."""
    return {
        "id": str(uuid4()),
        "started": "2026-01-15T20:00",
        "zones": [cast.zones[0].id],
        "tools": ["shovel"],
        f"minutes-{cast.cleo.id}": "20",
    } | more


@pytest.fixture
def phone(cast: Cast, client: Client) -> Client:
    """Cleo's phone, signed in."""
    client.force_login(cast.cleo)
    return client


def address(cast: Cast) -> str:
    """The form of snow removal."""
    return reverse("record", kwargs={"slug": cast.rink.slug, "kind": "snow-removal"})


def test_an_entry_that_is_taken_answers_with_its_page_and_again_with_the_same(
    cast: Cast, phone: Client
) -> None:
    post = a_post(cast)
    first = phone.post(address(cast), post, headers=OUTBOX)
    again = phone.post(address(cast), post, headers=OUTBOX)
    assert (first.status_code, again.status_code) == (200, 200)
    assert first.json() == again.json() == {"at": f"/r/{cast.rink.slug}/entry/{post['id']}/"}
    assert Entry.objects.count() == 1


def test_a_refused_entry_answers_with_the_sentence_of_the_form(cast: Cast, phone: Client) -> None:
    answer = phone.post(address(cast), a_post(cast, started=""), headers=OUTBOX)
    assert answer.status_code == 422
    assert any("required" in sentence for sentence in answer.json()["sentences"])


def test_another_text_under_the_same_id_is_a_conflict(cast: Cast, phone: Client) -> None:
    post = a_post(cast)
    phone.post(address(cast), post, headers=OUTBOX)
    answer = phone.post(address(cast), post | {"note": "something else"}, headers=OUTBOX)
    assert answer.status_code == 409
    assert "sentences" in answer.json()


def test_nobody_signed_in_gets_401_and_no_page(cast: Cast, client: Client) -> None:
    assert client.post(address(cast), a_post(cast), headers=OUTBOX).status_code == 401


def test_sentences_are_read_out_of_the_page_once_each_without_markup() -> None:
    page = (
        b'<p class="error form-error">Not <b>saved</b> yet.</p><p class="hint">x</p>'
        + 2 * b'<p class="error">A &amp; B</p>'
    )
    assert sentences(page) == ["Not saved yet.", "A & B"]
