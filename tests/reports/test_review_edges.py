"""Seasons at the edge: one entry, nothing that ever failed, people who left, money without cents. No wrong total."""

import datetime as dt
from uuid import uuid4

import pytest

from rinklog.crew.models import Membership
from rinklog.facts import Refused
from rinklog.money.services import choose_currency, record_payment, set_water_price
from rinklog.reports.review.tables import Table
from rinklog.reports.review.whole import SeasonReview, season_review
from rinklog.work.content import EntryContent
from rinklog.work.hazards import add_event as say
from rinklog.work.services import amend_entry
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.records import an_accident

pytestmark = pytest.mark.django_db
DAY = dt.timedelta(days=1)


def review(cast: Cast, now: dt.datetime = NOW) -> SeasonReview:
    return season_review(cast.season, now=now)


def on_record(table: Table) -> dict[str, str]:
    return {str(row[0]): str(row[1]) for row in table.rows}


def test_one_entry_is_a_whole_season(cast: Cast) -> None:
    cast.flood(water_m3=0.4)
    found = review(cast)
    (kind, total) = found.table("water-by-kind").dicts()
    assert (kind["water_m3"], total["water_m3"]) == (0.4, 0.4)
    (person,) = found.table("labour-by-person").dicts()
    assert (person["labour_h"], person["share_percent"]) == (0.5, 100.0)
    assert found.table("labour-by-person").notes == ()  # one person carries no load of others
    assert found.table("flood-model").rows == ()
    assert "Not enough to tell" in found.table("flood-model").notes[0]


def test_repairs_that_never_failed_hold_and_nothing_is_told_apart(cast: Cast) -> None:
    for number in range(12):
        method = ("slush-pack", "hot-water-pour")[number % 2]
        hazard = put_up(cast, x_m=2.0 + number, now=NOW - 20 * DAY)
        cast.work("patch", now=NOW - 19 * DAY, hazard_ids=(hazard.id,), details={"method": method})
    found = review(cast)
    for row in found.table("held").dicts():
        assert (row["repairs"], row["failed"], row["held_a_week"], row["half_failed"]) == (6, 0, 100, None)
        assert row["low"] is None, "a band of nothing that failed"
    (pair,) = found.table("held-compared").dicts()
    assert pair["chi2"] is None
    assert "Not enough to tell: about" in str(pair["verdict"])


def test_a_failure_lies_between_two_looks_and_the_middle_stands_beside_it(cast: Cast) -> None:
    """Good on day 6, back on day 10: nobody knows when in between. The middle is day 8; on day 7 a quarter has failed."""
    hazard = put_up(cast, now=NOW - 20 * DAY)
    cast.work("patch", now=NOW - 19 * DAY, hazard_ids=(hazard.id,))
    for state, days in (("holding", 6), ("back-again", 10)):
        at = NOW + (days - 19) * DAY
        say(id=uuid4(), hazard=hazard, state=state, by=cast.cleo, now=at, at=at)
    found = review(cast)
    (row,) = found.table("held").dicts()
    assert (row["half_failed"], row["held_a_week"], row["held_a_week_middle"]) == ("6.0–10.0", 75, 100)
    assert [step["day"] for step in found.table("held-curves").dicts()] == [8.0]


def test_an_amendment_to_negative_water_is_refused_and_no_total_moves(cast: Cast) -> None:
    entry = cast.flood(water_m3=1.0)
    less = EntryContent(
        started_at=NOW, zone_ids=(cast.zones[0].id,), minutes={cast.cleo.id: 30.0}, water_m3=-5.0,
        details={"by": "amount", "water": "cold", "tool": "hose"},
    )  # fmt: skip
    with pytest.raises(Refused, match="Water is -5 m³; allowed is 0 or more"):
        amend_entry(
            id=uuid4(), entry=entry, content=less, reason="typo", by=cast.cleo, now=NOW, local_day=NOW.date()
        )
    assert review(cast).table("water-by-kind").dicts()[-1]["water_m3"] == 1.0


def test_a_person_who_left_keeps_their_hours(cast: Cast) -> None:
    cast.flood(by=cast.cleo)
    cast.flood(by=cast.dag, now=NOW + dt.timedelta(hours=1))
    Membership.objects.filter(person=cast.dag).update(left_at=NOW)
    found = review(cast, NOW + DAY)
    assert {row["person"]: row["labour_h"] for row in found.table("labour-by-person").dicts()} == {
        cast.cleo.name: 0.5,
        cast.dag.name: 0.5,
    }
    Membership.objects.filter(person=cast.dag).delete()
    roles = {row["role"]: row["labour_h"] for row in review(cast, NOW + DAY).table("labour-by-role").dicts()}
    assert roles == {"volunteer": 0.5, "": 0.5}


def test_a_currency_without_cents_adds_up_whole(cast: Cast) -> None:
    choose_currency(rink=cast.rink, code="JPY", by=cast.ada, now=NOW)
    set_water_price(
        rink=cast.rink, starts_on=dt.date(2025, 11, 1), cents_per_1000_m3=300_000, by=cast.ada, now=NOW
    )
    cast.flood(water_m3=1.5)  # 300 yen a m³: 450
    said = {"on": NOW.date(), "today": NOW.date(), "by": cast.ada, "now": NOW}
    record_payment(id=uuid4(), rink=cast.rink, kind="fuel", cents=1250, what="propane", **said)  # type: ignore[arg-type]
    assert [row[3] for row in review(cast).table("money").rows] == ["450", "1250", "1700", "0", "-1700"]


def test_the_questions_of_published_practice_stand_with_what_is_on_record(cast: Cast) -> None:
    empty = on_record(review(cast).table("questions"))
    assert list(empty.values()) == ["nothing"] * 5
    first, second = cast.zones[0].id, cast.zones[5].id
    cast.work("drill-hole", zone_ids=(first,), details={"clear_ice_m": 0.06, "white_ice_m": 0.02})
    cast.work("drill-hole", zone_ids=(second,), details={"clear_ice_m": 0.15})
    put_up(cast, severity="danger", now=NOW - DAY)
    an_accident(cast)
    cast.flood(by=cast.dag)
    cast.flood(by=cast.dag, now=NOW + dt.timedelta(hours=1))
    found = on_record(review(cast, NOW + dt.timedelta(hours=2)).table("questions"))
    thick, danger, misses, notices, load = found.values()
    assert thick == "Holes drilled: 2; thinnest 80 mm in A1, thickest 150 mm in B2."
    assert danger == "Hazards: 1, of them 1 dangerous; 0 came back, most often number –."
    assert misses == "Near misses reported: 0; accidents: 1."
    assert notices == "Hazards lay open without a cone for 26 h, 100 % of the time they were open."
    assert load.startswith("Half of the hours lie on 1 of 2 people")
