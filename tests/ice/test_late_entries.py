"""What is told late lands in its true hour: the same rows, bit for bit, as if it had come in time."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from rinklog.ice.models import Checkpoint, Outlook
from rinklog.ice.services import project
from rinklog.work.content import EntryContent
from rinklog.work.models import Entry
from rinklog.work.services import amend_entry, undo_entry, withdraw_entry
from tests.support.cast import Cast
from tests.support.winter import at

NOW = at(12, 20, 40)
STORED = ("estimate", "hours", "members")


def rows(cast: Cast, now: dt.datetime = NOW) -> dict[str, Any]:
    """The stored rows after a projection."""
    assert project(rink=cast.rink, now=now) is not None
    return Outlook.objects.values(*STORED).get(rink=cast.rink)


def from_scratch(cast: Cast) -> dict[str, Any]:
    """The same with every checkpoint thrown away: everything that is known now, marched in order."""
    Checkpoint.objects.all().delete()
    return rows(cast)


def content(cast: Cast, at_: dt.datetime, water_m3: float) -> EntryContent:
    """A flood over all zones."""
    return EntryContent(
        started_at=at_,
        zone_ids=tuple(zone.id for zone in cast.zones),
        minutes={cast.cleo.id: 30.0},
        water_m3=water_m3,
        details={"by": "amount", "water": "cold", "tool": "hose"},
    )


def flood(
    cast: Cast, at_: dt.datetime, water_m3: float, told: dt.datetime = NOW, id: UUID | None = None
) -> Entry:
    """Tell of a flood at some time."""
    said = content(cast, at_, water_m3)
    return cast.flood(id=id, now=told, **vars(said))


def test_a_late_flood_gives_what_it_had_given_in_time(cold: Cast) -> None:
    before = rows(cold)
    flood(cold, at(9, 21), 1.2)
    late = rows(cold)
    assert late != before
    assert late == from_scratch(cold)


def test_a_flood_told_hour_by_hour_and_one_told_days_late_give_the_same(cold: Cast) -> None:
    entry = flood(cold, at(9, 21), 1.2, told=at(9, 21, 30))
    for now in (at(9, 22, 10), at(10, 6, 50), at(11, 12), at(12, 3, 5)):
        project(rink=cold.rink, now=now)
    in_time = rows(cold)
    undo_entry(id=uuid4(), entry=entry, by=cold.cleo, now=NOW, within=dt.timedelta(days=9))
    without = rows(cold)
    flood(cold, at(9, 21), 1.2)
    assert rows(cold) == in_time != without


def test_an_amended_flood_gives_what_the_right_one_had_given(cold: Cast) -> None:
    right = flood(cold, at(9, 21), 1.2)
    wanted = rows(cold)
    undo_entry(id=uuid4(), entry=right, by=cold.cleo, now=NOW, within=dt.timedelta(days=9))
    wrong = flood(cold, at(10, 3), 0.7)
    assert rows(cold) != wanted
    amend_entry(
        id=uuid4(), entry=wrong, content=content(cold, at(9, 21), 1.2), reason="wrong evening", by=cold.cleo,
        now=NOW, local_day=dt.date(2026, 1, 9),
    )  # fmt: skip
    assert rows(cold) == wanted


def test_a_withdrawn_flood_leaves_nothing_behind(cold: Cast) -> None:
    never = rows(cold)
    entry = flood(cold, at(9, 21), 1.2)
    assert rows(cold) != never
    withdraw_entry(id=uuid4(), entry=entry, reason="another rink", by=cold.cleo, now=NOW)
    assert rows(cold) == never


def test_a_drill_hole_told_late_weighs_the_members_of_its_own_hour(cold: Cast) -> None:
    rows(cold)
    cold.work("drill-hole", now=NOW, started_at=at(8, 9, 20), details={"clear_ice_m": 0.085})
    late = rows(cold)
    assert late["estimate"]["holes_used"] == 1
    assert late == from_scratch(cold)


def test_weather_that_comes_late_replaces_the_forecast_of_its_hours(cold: Cast) -> None:
    from tests.support.winter import observed

    before = rows(cold)
    observed(cold, at(10, 0), at(10, 6), air_c=-14.0)
    late = rows(cold)
    assert late != before
    assert late == from_scratch(cold)


def test_a_late_flood_is_marched_from_the_last_checkpoint_before_it(cold: Cast) -> None:
    rows(cold)
    made = {row.at: row.fingerprint for row in Checkpoint.objects.all()}
    flood(cold, at(11, 13), 1.2)
    rows(cold)
    after = {row.at: row.fingerprint for row in Checkpoint.objects.all()}
    same = {when for when in made if after.get(when) == made[when]}
    assert max(same) == at(11, 12)
    assert min(set(after) - same) == at(11, 18)
