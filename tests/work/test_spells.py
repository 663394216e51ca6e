"""How long repairs held, told from the log. Expected values are counted by hand in each test."""

import datetime as dt
from uuid import uuid4

import pytest

from rinklog.work import entry_events
from rinklog.work.hazards import add_event
from rinklog.work.models import Entry, Hazard
from rinklog.work.services import withdraw_entry
from rinklog.work.spell_queries import Spell, spells
from tests.support.cast import NOW, Cast
from tests.support.counting import CountQueries
from tests.support.hazards import put_up

DAY = dt.timedelta(days=1)
LATER = NOW + 30 * DAY


def mend(cast: Cast, *hazards: Hazard, at: dt.datetime, kind: str = "patch", **content: object) -> Entry:
    return cast.work(kind, now=at, hazard_ids=tuple(one.id for one in hazards), **content)


def say(cast: Cast, hazard: Hazard, state: str, at: dt.datetime) -> None:
    add_event(id=uuid4(), hazard=hazard, state=state, by=cast.cleo, now=at, at=at)


def only(cast: Cast) -> Spell:
    (spell,) = spells(cast.rink, until=LATER)
    return spell


def test_a_repair_fails_between_the_last_time_it_was_good_and_the_time_it_was_back(cast: Cast) -> None:
    bump = put_up(cast)
    mend(cast, bump, at=NOW)
    say(cast, bump, "holding", NOW + 2 * DAY)
    say(cast, bump, "back-again", NOW + 6 * DAY)
    spell = only(cast)
    assert (spell.defect, spell.method) == ("bump", "slush-pack")
    assert spell.seen_good_last_at == NOW + 2 * DAY
    assert spell.failed_at == NOW + 6 * DAY
    assert spell.failed
    assert spell.held_s == 4 * 86400  # the middle of day 2 and day 6


def test_silence_censors_at_what_is_known_or_at_the_seasons_end(cast: Cast) -> None:
    mend(cast, put_up(cast), at=NOW)
    assert only(cast).held_s == 30 * 86400
    season = cast.season
    season.ends_on = (NOW + 9 * DAY).date()
    season.save()
    spell = only(cast)
    assert not spell.failed
    # 24 January ends at 23:00 UTC in Oslo.
    assert spell.censored_at == dt.datetime(2026, 1, 24, 23, tzinfo=dt.UTC)


def test_a_second_repair_ends_the_first_without_failure(cast: Cast) -> None:
    bump = put_up(cast)
    mend(cast, bump, at=NOW)
    mend(cast, bump, at=NOW + 3 * DAY, kind="torch-repair")
    first, second = spells(cast.rink, until=LATER)
    assert (first.method, first.failed, first.held_s) == ("slush-pack", False, 3 * 86400)
    assert second.method == "torch-repair"


def test_closing_the_hazard_says_it_was_good_until_then(cast: Cast) -> None:
    bump = put_up(cast)
    mend(cast, bump, at=NOW)
    say(cast, bump, "closed", NOW + 5 * DAY)
    spell = only(cast)
    assert spell.censored_at == spell.seen_good_last_at == NOW + 5 * DAY


def test_withdrawn_work_and_withdrawn_hazards_leave_no_spell(cast: Cast) -> None:
    entry = mend(cast, put_up(cast), at=NOW)
    withdraw_entry(id=uuid4(), entry=entry, reason="wrong rink", by=cast.cleo, now=NOW)
    assert spells(cast.rink, until=LATER) == []


def test_water_and_minutes_are_shared_by_the_hazards_of_one_entry(cast: Cast) -> None:
    mend(
        cast,
        put_up(cast),
        put_up(cast, x_m=3.0),
        at=NOW,
        water_m3=0.04,
        details={"method": "bucket-pour"},
    )
    both = spells(cast.rink, until=LATER)
    assert [spell.water_m3 for spell in both] == [pytest.approx(0.02)] * 2
    assert [spell.minutes for spell in both] == [15.0, 15.0]
    assert both[0].zone_ids == tuple(sorted(zone.id for zone in cast.zones[:2]))


def test_a_cover_counts_from_the_moment_it_is_lifted(cast: Cast) -> None:
    cover = mend(cast, put_up(cast), at=NOW, kind="tarp-melt")
    assert spells(cast.rink, until=LATER) == []
    lifted = NOW + dt.timedelta(hours=5)
    entry_events.add_event(
        id=uuid4(), entry=cover, what="lifted", by=cast.cleo, now=lifted, details={"result": "level"}
    )
    assert only(cast).repaired_at == lifted


def test_a_seasons_spells_are_those_of_its_hazards_and_the_queries_do_not_grow(cast: Cast) -> None:
    for n in range(6):
        mend(cast, put_up(cast, x_m=2.0 + n), at=NOW + n * DAY)
    season = cast.season
    with CountQueries() as asked:
        assert len(spells(cast.rink, season, until=LATER)) == 6
    assert asked.count <= 6
    assert spells(cast.other_rink, until=LATER) == []


def test_what_happened_later_than_is_known_does_not_count(cast: Cast) -> None:
    bump = put_up(cast)
    mend(cast, bump, at=NOW)
    say(cast, bump, "back-again", NOW + 6 * DAY)
    (spell,) = spells(cast.rink, until=NOW + DAY)
    assert (spell.failed, spell.held_s) == (False, 86400)
