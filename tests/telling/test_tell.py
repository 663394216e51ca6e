"""Telling: one message a person and a key, whoever tells it how often; and the inbox that shows it."""

import datetime as dt

import pytest
from django.test import Client
from django.urls import reverse

from rinklog.telling.kinds import KINDS
from rinklog.telling.models import Message
from rinklog.telling.queries import unread
from tests.support.cast import NOW, Cast
from tests.support.counting import queries_of
from tests.support.messages import tell_one

LATER = NOW + dt.timedelta(hours=3)


@pytest.fixture
def cleo(cast: Cast) -> Client:
    """Cleo's browser."""
    client = Client()
    client.force_login(cast.cleo)
    return client


def inbox(cast: Cast) -> str:
    """The address of the first rink's inbox."""
    return reverse("inbox", args=[cast.rink.slug])


def test_a_person_hears_of_a_key_once_ever_and_everybody_else_still_hears_of_it(cast: Cast) -> None:
    assert tell_one(cast, cast.cleo, cast.cleo, key="flood night") == 1
    assert tell_one(cast, cast.cleo, cast.dag, key="flood night", text="Other words.", now=LATER) == 1
    assert Message.objects.get(person=cast.cleo).text == "Thursday evening needs two people."
    assert Message.objects.get(person=cast.dag).text == "Other words."


def test_a_message_needs_words_a_path_of_this_site_a_key_and_a_known_kind(cast: Cast) -> None:
    for wrong, said in (
        ({"text": " "}, "text is empty"),
        ({"url": "https://elsewhere.example/"}, "url is 'https://elsewhere.example/'"),
        ({"url": "//elsewhere.example/"}, "url is '//elsewhere.example/'"),
        ({"key": ""}, "key has 0 characters"),
        ({"key": "k" * 201}, "key has 201 characters"),
        ({"kind": "gossip"}, "kind is 'gossip'; allowed are off-ice-alarm"),
    ):
        with pytest.raises(ValueError, match=said):
            tell_one(cast, cast.cleo, **wrong)
    assert Message.objects.count() == 0


def test_telling_two_hundred_asks_no_more_queries_than_telling_two(
    cast: Cast, django_assert_max_num_queries
) -> None:  # type: ignore[no-untyped-def]
    from tests.support.cast import make_person

    crew = [make_person(f"n{n}", cast.rink, "volunteer") for n in range(200)]
    with django_assert_max_num_queries(8):
        assert tell_one(cast, *crew) == 200


def test_what_wakes_people_is_also_urgent() -> None:
    assert [kind.key for kind in KINDS.values() if kind.wakes and not kind.urgent] == []


def test_the_inbox_shows_ones_own_messages_of_this_rink_and_counts_the_unread_on_every_page(
    cast: Cast, cleo: Client
) -> None:
    tell_one(cast, cast.cleo, text="Boards must be looked at.")
    tell_one(cast, cast.dag, text="For Dag alone.")
    page = cleo.get(inbox(cast)).content.decode()
    assert "Boards must be looked at." in page
    assert "For Dag alone." not in page
    home = cleo.get(reverse("home", args=[cast.rink.slug])).content.decode()
    assert '<span class="unseen">unread: </span>1</span>' in home


def test_the_count_costs_no_query(cast: Cast, cleo: Client) -> None:
    home = reverse("home", args=[cast.rink.slug])
    before = queries_of(cleo, home)
    for _ in range(3):
        tell_one(cast, cast.cleo)
    assert queries_of(cleo, home) == before


def test_opening_a_message_marks_it_as_read_and_goes_where_it_points(cast: Cast, cleo: Client) -> None:
    tell_one(cast, cast.cleo)
    message = Message.objects.get(person=cast.cleo)
    answer = cleo.post(reverse("inbox-open", args=[cast.rink.slug, message.id]))
    assert answer.headers["Location"] == message.url
    assert unread(cast.cleo, cast.rink) == 0


def test_nobody_marks_anothers_message(cast: Cast, cleo: Client) -> None:
    tell_one(cast, cast.dag)
    message = Message.objects.get(person=cast.dag)
    assert cleo.post(reverse("inbox-open", args=[cast.rink.slug, message.id])).status_code == 404
    assert unread(cast.dag, cast.rink) == 1


def test_marking_all_leaves_what_came_after_the_page_was_shown(cast: Cast, cleo: Client) -> None:
    tell_one(cast, cast.cleo)
    tell_one(cast, cast.cleo, now=LATER)
    cleo.post(reverse("inbox-read", args=[cast.rink.slug]), {"until": NOW.isoformat()})
    assert unread(cast.cleo, cast.rink) == 1
    for until in ("yesterday", "2026-13-41T00:00Z", ""):
        assert cleo.post(reverse("inbox-read", args=[cast.rink.slug]), {"until": until}).status_code == 302
    assert unread(cast.cleo, cast.rink) == 0
