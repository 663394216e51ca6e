"""Every named address × every role: who gets in. Absent and forbidden are both 404."""

from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse

from rinklog.crew.rights import Right
from tests.support.cast import Cast
from tests.web.who_may_table import ANYBODY, KEEPER_SOMEWHERE, ROOMS, SIGNED_IN, TABLE, Row

# Written out by hand from the issue ("keeper, coordinator, volunteer, guest (reads)"), not read from rights.py.
EVERYBODY = ("ada", "bo", "cleo", "eli")
WHO_HOLDS = {
    Right.SEE: EVERYBODY,
    Right.LOG: ("ada", "bo", "cleo"),
    Right.SET_OPEN: ("ada", "bo"),
    Right.SEE_ACCIDENTS: ("ada", "bo"),
    Right.SEE_MONEY: ("ada", "bo"),
    Right.AMEND_ANY: ("ada", "bo"),
    Right.INSPECT_FORMALLY: ("ada", "bo"),
    Right.RUN_CREW: ("ada", "bo"),
    Right.KEEP: ("ada",),
    ANYBODY: (*EVERYBODY, "rut"),
    SIGNED_IN: (*EVERYBODY, "rut"),
    KEEPER_SOMEWHERE: ("ada", "rut"),
}
PEOPLE = (*EVERYBODY, "rut")  # Rut keeps the other rink
OF_A_RINK = [name for name, row in TABLE.items() if row.needs in list(Right)]


def addresses(patterns: list[object] | None = None) -> Iterator[URLPattern]:
    """Every address of the site."""
    for pattern in get_resolver().url_patterns if patterns is None else patterns:
        if isinstance(pattern, URLPattern):
            yield pattern
        else:
            yield from addresses(pattern.url_patterns)  # type: ignore[attr-defined]


def address(name: str, row: Row, cast: Cast) -> str:
    """The address on the first rink, where it has a rink."""
    of_rink = {"slug": cast.rink.slug} if name in OF_A_RINK else {}
    return reverse(name, kwargs=of_rink | row.kwargs(cast))


def test_every_address_has_a_name_and_a_row_in_the_table_and_no_row_is_left_over() -> None:
    names = [pattern.name for pattern in addresses()]
    assert None not in names, "an address has no name"
    assert len(names) == len(set(names)), "two addresses have one name"
    assert set(names) == set(TABLE)
    assert len(TABLE) == sum(len(room) for room in ROOMS)


@pytest.mark.parametrize("pattern", list(addresses()), ids=lambda pattern: pattern.name)
def test_every_view_says_what_it_needs_and_the_table_says_the_same(pattern: URLPattern) -> None:
    needs = getattr(pattern.callback, "needs", None)
    assert needs is not None, "mark the view with on_rink, signed_in or anybody"
    assert needs == TABLE[str(pattern.name)].needs


@pytest.mark.parametrize("name", TABLE)
def test_only_those_who_may_get_in(name: str, cast: Cast) -> None:
    row = TABLE[name]
    path = address(name, row, cast)
    lets_in = WHO_HOLDS[row.needs]
    seen = {login: status_of(signed_in(cast, login).get(path)) for login in PEOPLE}
    assert seen == {login: row.get if login in lets_in else 404 for login in PEOPLE}


@pytest.mark.parametrize("name", [name for name, row in TABLE.items() if row.needs != ANYBODY])
def test_nobody_is_sent_to_sign_in_and_a_waiting_phone_is_told_401(
    name: str, cast: Cast, client: Client
) -> None:
    path = address(name, TABLE[name], cast)
    for answer in (client.get(path), client.post(path)):
        assert answer.status_code == 302
        assert answer.headers["Location"].startswith("/sign-in/?next=")
    assert client.get(path, headers={"HX-Request": "true"}).status_code == 401
    assert client.post(path, headers={"X-Outbox": "1"}).status_code == 401


@pytest.mark.parametrize("name", OF_A_RINK)
def test_a_post_by_somebody_who_may_not_is_404_and_one_for_another_rinks_thing_too(
    name: str, cast: Cast
) -> None:
    row = TABLE[name]
    thing = row.kwargs(cast)
    path = reverse(name, kwargs={"slug": cast.rink.slug} | thing)
    for login in PEOPLE:
        if login not in WHO_HOLDS[row.needs]:
            assert signed_in(cast, login).post(path).status_code == 404, login
    if any(not isinstance(value, str) for value in thing.values()):
        # The first rink's thing under the other rink's address: its own keeper does not reach across.
        across = reverse(name, kwargs={"slug": cast.other_rink.slug} | thing)
        rut = signed_in(cast, "rut")
        assert rut.post(across).status_code in (404, 405)
        assert rut.get(across).status_code in (404, 405)


def signed_in(cast: Cast, login: str) -> Client:
    """A browser in which one of the cast is signed in."""
    client = Client()
    client.force_login(getattr(cast, login))
    return client


def status_of(answer: Any) -> int:
    """The status of an answer that nobody reads to its end."""
    answer.close()
    return int(answer.status_code)
