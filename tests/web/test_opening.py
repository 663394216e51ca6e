"""Open, partly open or closed: who may set it, what it says, and what it never does by itself."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client

from rinklog.facts import Conflict
from rinklog.records.models import Opening
from rinklog.records.queries import current_opening
from tests.support.cast import NOW, Cast
from tests.support.counting import queries_of
from tests.support.records import an_opening


def opening(cast: Cast, state: str, minutes: int, **more: Any) -> Opening:
    """Bo sets the rink `minutes` after NOW."""
    return an_opening(cast, state, NOW + dt.timedelta(minutes=minutes), **more)


@pytest.fixture
def bo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.bo)
    return client


def post(**changes: object) -> dict[str, object]:
    return {"id": str(uuid4()), "when": "2026-01-15T21:00", "state": "open", "grade": "good"} | changes


def test_the_latest_change_is_what_the_rink_is_now(cast: Cast) -> None:
    assert current_opening(cast.rink, NOW) is None
    opening(cast, "open", 0)
    closed = opening(cast, "closed", 10)
    assert current_opening(cast.rink, NOW + dt.timedelta(minutes=5)).state == "open"  # type: ignore[union-attr]
    assert current_opening(cast.rink, NOW + dt.timedelta(minutes=10)) == closed
    assert current_opening(cast.other_rink, NOW + dt.timedelta(days=1)) is None


def test_a_closing_whose_time_has_passed_stays_a_closing_until_a_person_says_otherwise(cast: Cast) -> None:
    opening(cast, "closed", 0, until=NOW + dt.timedelta(hours=2))
    before = current_opening(cast.rink, NOW + dt.timedelta(minutes=119))
    after = current_opening(cast.rink, NOW + dt.timedelta(minutes=120))
    assert before is not None
    assert after is not None
    assert (before.state, bool(before.lapsed)) == ("closed", False)  # type: ignore[attr-defined]
    assert (after.state, bool(after.lapsed)) == ("closed", True)  # type: ignore[attr-defined]


def test_a_corrected_change_no_longer_counts_and_stays_in_the_history(bo: Client, cast: Cast) -> None:
    wrong = opening(cast, "open", 0)
    address = f"/r/{cast.rink.slug}/records/opening/{wrong.id}/correct/"
    answer = bo.post(address, post(state="closed", reason="wet coat", when="2026-01-15T21:30"))
    assert answer.status_code == 302
    assert current_opening(cast.rink, NOW + dt.timedelta(days=1)).reason == "wet coat"  # type: ignore[union-attr]
    assert Opening.objects.count() == 2
    assert "corrected later" in bo.get(f"/r/{cast.rink.slug}/records/opening/").content.decode()


def test_two_corrections_of_one_change_are_a_conflict(cast: Cast) -> None:
    wrong = opening(cast, "open", 0)
    first = opening(cast, "closed", 1, replaces=wrong)
    with pytest.raises(Conflict) as caught:
        opening(cast, "partly", 2, replaces=wrong)
    assert caught.value.existing == first
    assert Opening.objects.count() == 2


def test_a_replayed_change_adds_nothing_and_other_content_is_a_conflict(bo: Client, cast: Cast) -> None:
    address, sent = f"/r/{cast.rink.slug}/records/opening/set/", post(state="closed", reason="thaw")
    for _again in range(3):
        assert bo.post(address, sent).status_code == 302
    assert Opening.objects.count() == 1
    answer = bo.post(address, sent | {"reason": "flood tonight"})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "thaw" in page
    assert "flood tonight" in page
    assert Opening.objects.count() == 1
    # What was typed goes out under an id of its own.
    assert str(sent["id"]) not in page


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"state": "closed", "reason": ""}, "Reason is empty"),
        ({"state": "shut"}, "State is “shut”; allowed are open, partly open, closed."),
        ({"until": "2026-01-15T20:59"}, "Until is not after"),
        ({"until": "soon"}, "Until is “soon”; allowed is a date and a time."),
        ({"when": "2999-01-15T21:00"}, "in the future"),
        ({"when": "2024-01-15T21:00"}, "No season had begun"),
        ({"grade": "super"}, "Condition of the ice is “super”; allowed are excellent, good,"),
    ],
)
def test_what_cannot_be_recorded_gets_a_sentence_and_nothing_is_lost(
    bo: Client, cast: Cast, changes: dict[str, object], sentence: str
) -> None:
    answer = bo.post(f"/r/{cast.rink.slug}/records/opening/set/", post(note="keep me", **changes))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page
    assert "keep me" in page
    assert Opening.objects.count() == 0


def test_only_those_who_may_open_the_rink_see_the_form(cast: Cast, client: Client) -> None:
    address = f"/r/{cast.rink.slug}/records/opening/set/"
    expected = {"ada": 200, "bo": 200, "cleo": 404, "dag": 404, "eli": 404, "rut": 404}
    got = {}
    for login in expected:
        client.force_login(getattr(cast, login))
        got[login] = client.get(address).status_code
        client.post(address, post())
    assert got == expected
    assert {row.by.login for row in Opening.objects.all()} == {"ada", "bo"}


def test_the_page_says_that_an_estimate_never_opens_the_rink(cast: Cast, client: Client) -> None:
    client.force_login(cast.eli)
    page = client.get(f"/r/{cast.rink.slug}/records/opening/").content.decode()
    assert "An estimate never opens the rink" in page
    assert "opening/set/" not in page


def test_the_history_asks_the_same_number_of_queries_however_long_it_is(bo: Client, cast: Cast) -> None:
    address = f"/r/{cast.rink.slug}/records/opening/"
    opening(cast, "open", 0)
    few = queries_of(bo, address)
    for minute in range(1, 30):
        opening(cast, "open", minute, id=UUID(int=minute))
    many = queries_of(bo, address)
    assert few == many
