"""A closed season: the keeper still amends, nobody else writes, and the next one opens from it."""

import datetime as dt
from uuid import uuid4

import pytest
from django.test import Client

from rinklog.facts import Refused
from rinklog.money.models import Payment
from rinklog.money.services import take_payment_back
from rinklog.records.models import Opening
from rinklog.rink.closing import close_season
from rinklog.rink.models import Season
from rinklog.work.entry_events import undo_event
from rinklog.work.hazards import withdraw_hazard
from rinklog.work.models import Entry, EntryEvent, Hazard
from rinklog.work.services import undo_entry, withdraw_entry
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.records import an_opening
from tests.support.reviews import a_payment

pytestmark = pytest.mark.django_db
TODAY = NOW.date()


def close(cast: Cast, **more: dt.date) -> Season | None:
    return close_season(
        season=Season.objects.earliest("starts_on"), ends_on=TODAY, now=NOW, today=TODAY, **more
    )


def test_only_the_keeper_writes_in_a_closed_season(cast: Cast) -> None:
    entry, fresh, hazard = cast.flood(by=cast.cleo), cast.flood(by=cast.cleo), put_up(cast)
    was_set, season, hour = cast.was_set(fresh), cast.season, dt.timedelta(hours=1)
    payment = Payment.objects.get(id=a_payment(cast))
    close_season(season=season, ends_on=TODAY, now=NOW, today=TODAY)
    for deed in (
        lambda: cast.flood(by=cast.cleo),
        lambda: put_up(cast),
        lambda: an_opening(cast),
        lambda: withdraw_entry(
            id=uuid4(), entry=Entry.objects.get(id=entry.id), reason="no", by=cast.bo, now=NOW
        ),
        lambda: undo_entry(
            id=uuid4(), entry=Entry.objects.get(id=entry.id), by=cast.cleo, now=NOW, within=hour
        ),
        lambda: cast.was_set(Entry.objects.get(id=entry.id)),
        lambda: undo_event(event=EntryEvent.objects.get(id=was_set.id), by=cast.cleo, now=NOW, within=hour),
        lambda: withdraw_hazard(
            id=uuid4(), hazard=Hazard.objects.get(id=hazard.id), reason="no", by=cast.bo, now=NOW
        ),
        lambda: take_payment_back(
            payment=Payment.objects.get(id=payment.id), reason="no", by=cast.bo, now=NOW
        ),
    ):
        with pytest.raises(Refused, match="is closed; only the keeper still writes in it"):
            deed()
    assert (Entry.objects.count(), Opening.objects.count(), EntryEvent.objects.count()) == (2, 0, 1)
    assert Hazard.objects.get().state == Hazard.State.FOUND
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
