"""A closed season: the keeper still amends, nobody else writes, and the next one opens from it."""

import datetime as dt
from uuid import uuid4

import pytest
from django.test import Client

from rinklog.facts import Refused
from rinklog.records.models import Opening
from rinklog.rink.closing import close_season
from rinklog.rink.models import Season
from rinklog.work.models import Entry
from rinklog.work.services import withdraw_entry
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.records import an_opening

pytestmark = pytest.mark.django_db
TODAY = NOW.date()


def close(cast: Cast, **more: dt.date) -> Season | None:
    return close_season(
        season=Season.objects.earliest("starts_on"), ends_on=TODAY, now=NOW, today=TODAY, **more
    )


def test_only_the_keeper_writes_in_a_closed_season(cast: Cast) -> None:
    entry = cast.flood(by=cast.cleo)
    season = cast.season
    close_season(season=season, ends_on=TODAY, now=NOW, today=TODAY)
    for deed in (
        lambda: cast.flood(by=cast.cleo),
        lambda: put_up(cast),
        lambda: an_opening(cast),
        lambda: withdraw_entry(
            id=uuid4(), entry=Entry.objects.get(id=entry.id), reason="no", by=cast.bo, now=NOW
        ),
    ):
        with pytest.raises(Refused, match="is closed; only the keeper still writes in it"):
            deed()
    assert (Entry.objects.count(), Opening.objects.count()) == (1, 0)
    assert cast.flood(by=cast.ada).season == season
    withdraw_entry(id=uuid4(), entry=Entry.objects.get(id=entry.id), reason="twice", by=cast.ada, now=NOW)


def test_the_next_season_opens_in_the_same_step_and_a_second_call_changes_nothing(cast: Cast) -> None:
    first = cast.season
    opened = close(cast, next_starts_on=dt.date(2026, 11, 1))
    assert opened is not None
    assert (opened.grid_id, opened.starts_on, opened.name) == (first.grid_id, dt.date(2026, 11, 1), "2026–27")
    assert close(cast, next_starts_on=dt.date(2026, 11, 1)) == opened
    assert Season.objects.filter(rink=cast.rink).count() == 2
    first.refresh_from_db()
    assert first.ends_on == TODAY


@pytest.mark.parametrize(
    ("ends_on", "next_starts_on"), [("2025-10-31", ""), ("2199-01-01", ""), ("2026-01-10", "2026-01-10")]
)
def test_days_that_cannot_be_are_refused_in_a_sentence(
    cast: Cast, client: Client, ends_on: str, next_starts_on: str
) -> None:
    client.force_login(cast.ada)
    path = f"/r/{cast.rink.slug}/setup/close/"
    answer = client.post(path, {"ends_on": ends_on, "next_starts_on": next_starts_on})
    assert answer.status_code == 422
    assert 'class="error"' in answer.content.decode()
    assert cast.season.closed_at is None
    assert client.post(path, {"ends_on": "2026-01-10", "next_starts_on": ""}).status_code == 302
    assert cast.season.closed_at is not None
