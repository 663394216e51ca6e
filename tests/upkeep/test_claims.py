"""The one-time link that makes the first keeper, and the site's heartbeat."""

import datetime as dt

import pytest

from rinklog.upkeep import queries, services
from rinklog.upkeep.models import Claim

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 1, 15, 20, 30, tzinfo=dt.UTC)


def test_a_claim_works_once() -> None:
    token = services.make_claim_link(now=NOW)
    assert services.use_claim(token=token, now=NOW) is True
    assert services.use_claim(token=token, now=NOW) is False
    assert queries.open_claim(token=token, now=NOW) is None


def test_a_new_claim_ends_the_earlier_one_but_keeps_the_trace_of_a_used_one() -> None:
    used = services.make_claim_link(now=NOW)
    services.use_claim(token=used, now=NOW)
    earlier = services.make_claim_link(now=NOW)
    later = services.make_claim_link(now=NOW)
    assert services.use_claim(token=earlier, now=NOW) is False
    assert queries.open_claim(token=later, now=NOW) is not None
    assert Claim.objects.count() == 2


def test_a_claim_ends_after_a_week() -> None:
    token = services.make_claim_link(now=NOW)
    assert queries.open_claim(token=token, now=NOW + dt.timedelta(days=6, hours=23))
    assert queries.open_claim(token=token, now=NOW + dt.timedelta(days=7)) is None
    assert services.use_claim(token=token, now=NOW + dt.timedelta(days=7)) is False


def test_the_database_never_holds_the_token() -> None:
    token = services.make_claim_link(now=NOW)
    assert len(token) >= 32
    assert token not in str(list(Claim.objects.values()))


@pytest.mark.parametrize("token", ["", "x", "é" * 40, "\x00", "a" * 5000])
def test_nonsense_opens_nothing(token: str) -> None:
    services.make_claim_link(now=NOW)
    assert queries.open_claim(token=token, now=NOW) is None


def test_a_heart_that_beat_lately_beats() -> None:
    assert queries.is_beating(name="worker", now=NOW) is False
    services.record_heartbeat(name="worker", now=NOW)
    services.record_heartbeat(name="worker", now=NOW + dt.timedelta(seconds=20))
    assert queries.is_beating(name="worker", now=NOW + dt.timedelta(seconds=90)) is True
    assert queries.is_beating(name="worker", now=NOW + dt.timedelta(seconds=96)) is False
    assert queries.is_beating(name="other", now=NOW) is False


def test_a_new_start_forgets_earlier_beats() -> None:
    services.record_heartbeat(name="worker", now=NOW)
    services.forget_heartbeats()
    assert queries.is_beating(name="worker", now=NOW) is False
