"""Several posts of a phone in one: each is answered as if it had come alone, in the order in which they stand."""

import json
from typing import Any
from urllib.parse import urlencode
from uuid import uuid4

import pytest
from django.test import Client

from rinklog.work.models import Entry
from tests.support.cast import Cast
from tests.web.test_outbox_replies import OUTBOX, a_post, address

pytestmark = pytest.mark.django_db


@pytest.fixture
def phone(cast: Cast) -> Client:
    """Cleo's phone, signed in; the token is asked for, as everywhere outside tests."""
    phone = Client(enforce_csrf_checks=True)
    phone.force_login(cast.cleo)
    return phone


def packed(cast: Cast, **more: Any) -> list[str]:
    return [address(cast), urlencode(a_post(cast, **more), doseq=True)]


def send(client: Client, posts: Any) -> Any:
    token = client.get("/hello/").json()["token"]
    headers = OUTBOX | {"X-CSRFToken": token}
    return client.post(
        "/together/", json.dumps({"posts": posts}), content_type="application/json", headers=headers
    )


def test_each_is_answered_in_its_turn_and_one_that_is_refused_stops_no_other(
    cast: Cast, phone: Client
) -> None:
    answers = send(
        phone, [packed(cast), packed(cast, started=""), packed(cast), ["/r/nowhere/log/flood/", ""]]
    ).json()["answers"]
    assert [one["status"] for one in answers] == [200, 422, 200, 404]
    assert answers[0]["body"]["at"].startswith(f"/r/{cast.rink.slug}/entry/")
    assert any("required" in sentence for sentence in answers[1]["body"]["sentences"])
    assert answers[3]["body"] is None
    assert Entry.objects.count() == 2


def test_sent_twice_it_is_recorded_once_and_answered_alike(cast: Cast, phone: Client) -> None:
    posts = [packed(cast), packed(cast)]
    assert send(phone, posts).json() == send(phone, posts).json()
    assert Entry.objects.count() == 2


def test_an_event_may_follow_its_entry_in_the_same_post(cast: Cast, phone: Client) -> None:
    id = str(uuid4())
    note = [
        f"/r/{cast.rink.slug}/entry/{id}/withdraw/",
        urlencode({"id": str(uuid4()), "reason": "typed twice"}),
    ]
    answers = send(phone, [packed(cast, id=id), note]).json()["answers"]
    assert [one["status"] for one in answers] == [200, 200], answers
    assert Entry.objects.get(id=id).state == Entry.State.WITHDRAWN


def test_every_gate_stands_where_it_stood(cast: Cast) -> None:
    nobody = Client(enforce_csrf_checks=True)
    assert [one["status"] for one in send(nobody, [packed(cast)]).json()["answers"]] == [401]
    nobody.force_login(cast.rut)  # of another crew
    assert [one["status"] for one in send(nobody, [packed(cast)]).json()["answers"]] == [404]
    assert not Entry.objects.exists()


def test_a_forged_post_without_the_token_is_refused(cast: Cast, phone: Client) -> None:
    forged = json.dumps({"posts": [packed(cast)]})
    assert (
        phone.post("/together/", forged, content_type="application/json", headers=OUTBOX).status_code == 403
    )
    assert not Entry.objects.exists()


def test_only_forms_of_a_rink_are_passed_on(cast: Cast, phone: Client) -> None:
    posts = [["/sign-out/", ""], ["//elsewhere.example/r/x/", ""], ["/together/", ""]]
    assert [one["status"] for one in send(phone, posts).json()["answers"]] == [404, 404, 404]
    assert phone.get("/me/").status_code == 200


@pytest.mark.parametrize(
    ("posts", "sentence"),
    [
        ("x", "The posts cannot be read; allowed is a list of addresses with their forms."),
        ([["/r/"]], "The posts cannot be read; allowed is a list of addresses with their forms."),
        ([["/r/", 7]], "A post holds “7”; allowed is text."),
        ([["/r/x/", ""]] * 21, "There are 21 posts; allowed are 20 at once."),
    ],
)
def test_what_cannot_be_read_is_told(phone: Client, posts: Any, sentence: str) -> None:
    answer = send(phone, posts)
    assert (answer.status_code, answer.json()["sentences"]) == (400, [sentence])
