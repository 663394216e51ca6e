"""The daily walk and the formal inspections."""

import datetime as dt
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from rinklog.facts import Conflict, Refused
from rinklog.records.models import Check, CheckLine
from rinklog.records.services import Line
from tests.support.cast import NOW, Cast
from tests.support.counting import queries_of
from tests.support.records import a_check


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def room(cast: Cast, page: str) -> str:
    return f"/r/{cast.rink.slug}/records/{page}/"


def post(**changes: object) -> dict[str, object]:
    """What a phone posts for a walk of three lines, of which one was left blank."""
    sent: dict[str, object] = {
        "id": str(uuid4()),
        "when": "2026-01-15T21:00",
        "text-0": "Ice",
        "answer-0": "good",
        "text-1": "Boards",
        "answer-1": "repair",
        "remark-1": "a nail at the gate",
        "text-2": "Hut",
        "told_whom": "Ada",
        "grade": "fair",
    }
    return sent | changes


def answers() -> list[tuple[str, str, str]]:
    return list(CheckLine.objects.values_list("text", "answer", "remark"))


def test_a_walk_keeps_each_line_and_who_was_told(cleo: Client, cast: Cast) -> None:
    answer = cleo.post(room(cast, "walks/new"), post())
    assert answer.status_code == 302
    walk = Check.objects.get()
    assert (walk.list, walk.grade, walk.told_whom, walk.by) == ("walk", "fair", "Ada", cast.cleo)
    assert walk.at == dt.datetime(2026, 1, 15, 20, 0, tzinfo=dt.UTC)  # Oslo is UTC+1 in January
    assert answers() == [
        ("Ice", "good", ""),
        ("Boards", "repair", "a nail at the gate"),
        ("Hut", "not-seen", ""),
    ]
    page = cleo.get(answer.headers["Location"]).content.decode()
    assert "a nail at the gate" in page
    assert "a nail at the gate" in cleo.get(room(cast, "walks")).content.decode()


def test_the_rest_is_in_order_only_when_that_is_said(cleo: Client, cast: Cast) -> None:
    cleo.post(room(cast, "walks/new"), post(rest="good"))
    assert answers()[2] == ("Hut", "good", "")


def test_an_old_walk_keeps_the_words_it_was_made_with(cast: Cast) -> None:
    client = Client()
    client.force_login(cast.ada)
    walk = a_check(cast)
    words = {"grades": "good: flat", "walk": "Only the ice\nand the gate"}
    others = {"site": "one", "boards": "two", "after": "three", "machines": "four"}
    assert client.post(room(cast, "words"), words | others).status_code == 302
    assert "Only the ice" in client.get(room(cast, "walks/new")).content.decode()
    page = client.get(room(cast, f"checks/{walk.id}")).content.decode()
    assert "Boards" in page
    assert "Only the ice" not in page


def test_a_walk_on_which_nothing_was_looked_at_is_refused_and_nothing_is_lost(
    cleo: Client, cast: Cast
) -> None:
    answer = cleo.post(room(cast, "walks/new"), post(**{"answer-0": "", "answer-1": "", "note": "keep me"}))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Nothing is marked as looked at" in page
    assert "keep me" in page
    assert "a nail at the gate" in page
    assert Check.objects.count() == 0


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"answer-1": "broken"}, "Boards is “broken”; allowed are in order, wants repair, not looked at."),
        ({"when": "yesterday"}, "When is “yesterday”; allowed is a date and a time."),
        ({"grade": "super"}, "Condition of the ice is “super”; allowed are excellent,"),
    ],
)
def test_nonsense_gets_a_sentence(
    cleo: Client, cast: Cast, changes: dict[str, object], sentence: str
) -> None:
    answer = cleo.post(room(cast, "walks/new"), post(**changes))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


def test_a_replayed_walk_adds_nothing_and_other_content_is_a_conflict(cleo: Client, cast: Cast) -> None:
    sent = post(note="first words")
    for _again in range(3):
        assert cleo.post(room(cast, "walks/new"), sent).status_code == 302
    assert (Check.objects.count(), CheckLine.objects.count()) == (1, 3)
    answer = cleo.post(room(cast, "walks/new"), sent | {"remark-1": "two nails", "note": "second words"})
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "first words" in page
    assert "two nails" in page
    assert (Check.objects.count(), CheckLine.objects.count()) == (1, 3)


def test_only_another_remark_is_other_content(cast: Cast) -> None:
    id = uuid4()
    a_check(cast, id=id)
    with pytest.raises(Conflict):
        a_check(cast, id=id, lines=(Line("Ice", "good"), Line("Boards", "repair", "another nail")))


def test_somebody_elses_walk_is_corrected_only_by_those_who_may_amend_anything(cast: Cast) -> None:
    walk = a_check(cast, by=cast.cleo)
    path = room(cast, f"walks/{walk.id}/correct")
    got: dict[str, Any] = {}
    for login in ("ada", "bo", "cleo", "dag", "eli", "rut"):
        client = Client()
        client.force_login(getattr(cast, login))
        got[login] = client.get(path).status_code
    assert got == {"ada": 200, "bo": 200, "cleo": 200, "dag": 404, "eli": 404, "rut": 404}


def test_a_correction_replaces_the_walk_and_both_stay_readable(cleo: Client, cast: Cast) -> None:
    walk = a_check(cast, by=cast.cleo)
    path = room(cast, f"walks/{walk.id}/correct")
    form = cleo.get(path).content.decode()
    assert "a nail at the gate" in form
    assert cleo.post(path, post(**{"remark-1": "a screw, not a nail"})).status_code == 302
    listed = cleo.get(room(cast, "walks")).content.decode()
    assert "a screw, not a nail" in listed
    assert "a nail at the gate" not in listed
    assert "Corrected by Cleo" in cleo.get(room(cast, f"checks/{walk.id}")).content.decode()


def test_a_formal_inspection_is_not_reached_through_the_walks_address(cast: Cast) -> None:
    client = Client()
    client.force_login(cast.ada)
    inspection = a_check(cast, "boards")
    assert client.get(room(cast, f"walks/{inspection.id}/correct")).status_code == 404
    assert client.get(room(cast, "inspections/new/walk")).status_code == 404
    assert client.post(room(cast, "inspections/new/boards"), post()).status_code == 302
    assert Check.objects.filter(list="boards").count() == 2


def test_a_checklist_that_does_not_exist_is_refused(cast: Cast) -> None:
    with pytest.raises(Refused, match="“cellar”"):
        a_check(cast, "cellar")


def test_the_list_of_walks_asks_the_same_number_of_queries_however_many_there_are(
    cleo: Client, cast: Cast
) -> None:
    a_check(cast)
    few = queries_of(cleo, room(cast, "walks"))
    for day in range(1, 20):
        a_check(cast, at=NOW - dt.timedelta(days=day))
    many = queries_of(cleo, room(cast, "walks"))
    assert few == many
