"""What waited on a phone meets a site that has moved on: other fields, another grid, another text, another token."""

import datetime as dt
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from rinklog.rink.services import Divided, RinkSize, divide_again, make_grid, start_season
from rinklog.work.content import EntryContent
from rinklog.work.models import Entry, Hazard
from rinklog.work.services import amend_entry
from tests.support.cast import NOW, Cast

pytestmark = pytest.mark.django_db
OUTBOX = {"X-Outbox": "1"}


@pytest.fixture
def phone(cast: Cast, client: Client) -> Client:
    """Cleo's phone, signed in."""
    client.force_login(cast.cleo)
    return client


def a_post(cast: Cast, **more: Any) -> dict[str, Any]:
    """A snow removal as its form sends it."""
    post = {"id": str(uuid4()), "started": "2026-01-15T20:00", "tools": ["shovel"]}
    return post | {"zones": [cast.zones[0].id], f"minutes-{cast.cleo.id}": "20"} | more


def sent(phone: Client, cast: Cast, post: dict[str, Any]) -> Any:
    """The short answer to it."""
    return phone.post(f"/r/{cast.rink.slug}/log/snow-removal/", post, headers=OUTBOX)


def test_an_old_form_with_fields_that_are_gone_and_without_those_that_came_is_taken(
    cast: Cast, phone: Client
) -> None:
    old = a_post(cast, shovel_colour="red", weather_code=["7", "8"])  # and no note, end, sky, lesson, snow …
    assert sent(phone, cast, old).status_code == 200
    assert Entry.objects.get().people.get().minutes == 20


def test_what_was_done_before_a_new_season_began_stands_on_the_grid_it_was_written_on(
    cast: Cast, phone: Client
) -> None:
    old_zone, old_season, post = cast.zones[0], cast.season, a_post(cast)
    grid = make_grid(rink=cast.rink, rows=2, columns=2, now=NOW)
    start_season(rink=cast.rink, grid=grid, name="the next", starts_on=dt.date(2026, 1, 16))
    answer = sent(phone, cast, post)
    assert answer.status_code == 200, answer.json()
    entry = Entry.objects.get()
    assert (entry.season, entry.grid_id) == (old_season, old_zone.grid_id)
    assert entry.zones.get().zone == old_zone


def test_zones_that_were_drawn_anew_are_refused_with_a_sentence_and_can_be_picked_again(
    cast: Cast, phone: Client
) -> None:
    post = a_post(cast)
    gone = post["zones"][0]
    divide_again(rink=cast.rink, season=cast.season, into=Divided(RinkSize(40, 20, 4), 4, 2), now=NOW)
    answer = sent(phone, cast, post)
    assert answer.status_code == 422
    assert f"Zone “{gone}” is not on this season's grid; pick the zones again." in answer.json()["sentences"]
    again = sent(phone, cast, post | {"zones": [cast.zones[0].id]})
    assert (again.status_code, Entry.objects.count()) == (200, 1)


def a_hazard(cast: Cast) -> dict[str, Any]:
    """A bump as its form sends it."""
    post = {"id": str(uuid4()), "found": "2026-01-15T20:00", "kind": "bump", "severity": "trip"}
    return post | {"zones": [cast.zones[0].id]}


def test_a_hazard_found_before_a_new_season_began_stands_on_the_grid_it_was_found_on(
    cast: Cast, phone: Client
) -> None:
    old_zone, post = cast.zones[0], a_hazard(cast)
    grid = make_grid(rink=cast.rink, rows=2, columns=2, now=NOW)
    start_season(rink=cast.rink, grid=grid, name="the next", starts_on=dt.date(2026, 1, 16))
    answer = phone.post(f"/r/{cast.rink.slug}/hazards/new/", post, headers=OUTBOX)
    assert answer.status_code == 200, answer.json()
    hazard = Hazard.objects.get()
    assert (hazard.grid_id, hazard.zones.get()) == (old_zone.grid_id, old_zone)


def test_a_hazard_in_a_zone_that_was_drawn_anew_is_refused_with_a_sentence(cast: Cast, phone: Client) -> None:
    post = a_hazard(cast)
    gone = post["zones"][0]
    divide_again(rink=cast.rink, season=cast.season, into=Divided(RinkSize(40, 20, 4), 4, 2), now=NOW)
    answer = phone.post(f"/r/{cast.rink.slug}/hazards/new/", post, headers=OUTBOX)
    assert answer.status_code == 422
    assert f"Zone “{gone}” is not on this season's grid; pick the zones again." in answer.json()["sentences"]


def test_an_amendment_that_comes_after_somebody_elses_is_a_conflict_and_changes_nothing(
    cast: Cast, phone: Client
) -> None:
    entry = cast.work("snow-removal", by=cast.cleo)
    post = a_post(cast, reason="Only one shovel", note="mine")
    content = EntryContent(
        started_at=NOW, zone_ids=(cast.zones[1].id,), minutes={}, details={"tools": ["shovel"]}, note="Ada's"
    )
    amend_entry(
        id=uuid4(),
        entry=entry,
        content=content,
        reason="Wrong zone",
        by=cast.ada,
        now=NOW,
        local_day=NOW.date(),
    )
    answer = phone.post(f"/r/{cast.rink.slug}/entry/{entry.id}/amend/", post, headers=OUTBOX)
    assert answer.status_code == 409
    assert Entry.objects.get(state="standing").note == "Ada's"


def test_more_text_than_the_site_takes_is_413_with_the_limit(cast: Cast, phone: Client) -> None:
    answer = sent(phone, cast, a_post(cast, note="x" * 5_000_000))
    assert answer.status_code == 413
    assert "4 MB" in answer.content.decode()
    assert Entry.objects.count() == 0


def test_a_token_that_was_changed_is_refused_and_a_fresh_one_from_hello_is_taken(cast: Cast) -> None:
    phone = Client(enforce_csrf_checks=True)
    phone.force_login(cast.cleo)
    phone.get(reverse("hello"))
    post, address = a_post(cast), f"/r/{cast.rink.slug}/log/snow-removal/"
    stale = phone.post(address, post, headers=OUTBOX | {"X-CSRFToken": "a" * 32})
    token = phone.get(reverse("hello")).json()["token"]
    fresh = phone.post(address, post, headers=OUTBOX | {"X-CSRFToken": token})
    assert (stale.status_code, fresh.status_code, Entry.objects.count()) == (403, 200, 1)
