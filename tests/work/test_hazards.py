"""Hazards: found, marked, under repair, holding or back again, closed. Events are added, never overwritten."""

import datetime as dt
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rinklog.work.errors import Conflict, Refused
from rinklog.work.hazards import HazardContent, add_event, record_hazard, undo_event, withdraw_hazard
from rinklog.work.models import Hazard, HazardEvent
from rinklog.work.queries import open_hazards
from rinklog.work.repairs import attach_entry, detach_entry, reattach_entry
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up

MINUTE = dt.timedelta(minutes=1)


def say(hazard: Hazard, state: str, cast: Cast, **rest: object) -> HazardEvent:
    values: dict[str, object] = {"id": uuid4(), "by": cast.cleo, "now": NOW + MINUTE}
    event = add_event(hazard=hazard, state=state, **(values | rest))  # type: ignore[arg-type]
    hazard.refresh_from_db()
    return event


def states(hazard: Hazard) -> list[str]:
    return [event.state for event in hazard.events.filter(undone_at=None)]


def test_a_hazard_lies_in_the_zone_under_its_point(cast: Cast) -> None:
    # 40 m in 8 rows and 20 m in 4 columns: x 12 m is in the third row (C), y 7 m in the second column.
    assert [zone.label for zone in put_up(cast).zones.all()] == ["C2"]
    assert [zone.label for zone in put_up(cast, x_m=40.0, y_m=20.0).zones.all()] == ["H4"]
    assert [zone.label for zone in put_up(cast, x_m=0.0, y_m=0.0).zones.all()] == ["A1"]


def test_a_hazard_with_a_cone_is_found_and_marked(cast: Cast) -> None:
    hazard = put_up(cast, cone_out=True)
    assert states(hazard) == ["found", "marked"]
    assert (hazard.state, hazard.cone_out) == ("marked", True)
    bare = put_up(cast)
    assert states(bare) == ["found"]
    assert (bare.state, bare.cone_out) == ("found", False)


def test_its_whole_life_stays_readable(cast: Cast) -> None:
    hazard = put_up(cast)
    for n, state in enumerate(["marked", "under-repair", "holding", "back-again", "under-repair", "closed"]):
        say(hazard, state, cast, now=NOW + n * MINUTE)
        assert hazard.state == state
    assert states(hazard) == [
        "found",
        "marked",
        "under-repair",
        "holding",
        "back-again",
        "under-repair",
        "closed",
    ]
    # The cone went out when it was marked and came in when it was closed.
    assert [event.cone_out for event in hazard.events.all()] == [False, True, True, True, True, True, False]
    assert hazard not in open_hazards(cast.rink)


def test_a_replayed_post_adds_nothing_and_other_content_is_a_conflict(cast: Cast) -> None:
    id = uuid4()
    first = put_up(cast, id=id, cone_out=True)
    assert put_up(cast, id=id, cone_out=True, now=NOW, found_at=NOW).number == first.number
    assert Hazard.objects.count() == 1
    assert HazardEvent.objects.count() == 2
    with pytest.raises(Conflict) as conflict:
        put_up(cast, id=id, cone_out=True, note="bigger than I thought")
    assert conflict.value.existing == first
    with pytest.raises(Conflict):
        put_up(cast, id=id, cone_out=True, by=cast.dag)


def test_another_rinks_row_is_not_shown_by_a_conflict(cast: Cast) -> None:
    id = uuid4()
    put_up(cast, id=id)
    zone = cast.other_rink.seasons.get().grid.zones.first()
    content = HazardContent(kind="bump", found_at=NOW, zone_ids=(zone.id,))
    with pytest.raises(Conflict) as conflict:
        record_hazard(
            id=id, rink=cast.other_rink, content=content, by=cast.rut, now=NOW, local_day=NOW.date()
        )
    assert conflict.value.existing is None


def test_a_replayed_event_adds_nothing_and_other_content_is_a_conflict(cast: Cast) -> None:
    hazard, id = put_up(cast), uuid4()
    say(hazard, "marked", cast, id=id)
    say(hazard, "marked", cast, id=id)
    assert states(hazard) == ["found", "marked"]
    with pytest.raises(Conflict):
        say(hazard, "closed", cast, id=id)
    with pytest.raises(Conflict):
        say(put_up(cast), "marked", cast, id=id)


def test_numbers_are_counted_per_season_and_never_used_again(cast: Cast) -> None:
    assert [put_up(cast).number for _ in range(3)] == [1, 2, 3]
    withdraw_hazard(
        id=uuid4(), hazard=Hazard.objects.get(number=3), reason="my shadow", by=cast.cleo, now=NOW
    )
    assert put_up(cast).number == 4


def test_what_arrives_late_lands_at_its_own_time(cast: Cast) -> None:
    hazard = put_up(cast)
    say(hazard, "closed", cast, at=NOW + 60 * MINUTE, now=NOW + 60 * MINUTE)
    say(hazard, "marked", cast, at=NOW + 5 * MINUTE, now=NOW + 90 * MINUTE)
    assert (hazard.state, hazard.cone_out) == ("closed", False)
    assert states(hazard) == ["found", "marked", "closed"]


def test_the_cone_stays_as_it_was_until_somebody_says_otherwise(cast: Cast) -> None:
    hazard = put_up(cast, cone_out=True)
    say(hazard, "under-repair", cast)
    assert hazard.cone_out
    say(hazard, "holding", cast, cone_out=False)
    assert not hazard.cone_out
    say(hazard, "back-again", cast)
    assert not hazard.cone_out


def test_the_cone_before_an_event_is_the_one_of_its_time_not_of_what_arrived_last(cast: Cast) -> None:
    hazard = put_up(cast)
    say(hazard, "marked", cast, at=NOW + 10 * MINUTE, now=NOW + 30 * MINUTE)
    say(hazard, "holding", cast, at=NOW + 5 * MINUTE, now=NOW + 30 * MINUTE, cone_out=False)  # late
    say(hazard, "under-repair", cast, at=NOW + 20 * MINUTE, now=NOW + 30 * MINUTE)
    assert hazard.cone_out


def test_an_event_is_taken_back_by_who_said_it_and_only_for_a_while(cast: Cast) -> None:
    hazard = put_up(cast, cone_out=True)
    event = say(hazard, "closed", cast)
    within = dt.timedelta(minutes=10)
    with pytest.raises(Refused, match="Only the person who said it"):
        undo_event(event=event, by=cast.dag, now=NOW + 2 * MINUTE, within=within)
    with pytest.raises(Refused, match="too late"):
        undo_event(event=event, by=cast.cleo, now=NOW + 12 * MINUTE, within=within)
    assert undo_event(event=event, by=cast.cleo, now=NOW + 2 * MINUTE, within=within)
    assert not undo_event(event=event, by=cast.cleo, now=NOW + 3 * MINUTE, within=within)
    hazard.refresh_from_db()
    assert (hazard.state, hazard.cone_out) == ("marked", True)
    assert hazard.events.count() == 3  # the history keeps it
    with pytest.raises(Refused, match="withdraw the hazard"):
        undo_event(event=hazard.events.get(state="found"), by=cast.cleo, now=NOW, within=within)


def test_a_mistaken_hazard_is_withdrawn_with_a_reason_and_stays_in_its_history(cast: Cast) -> None:
    hazard = put_up(cast)
    with pytest.raises(Refused, match="the reason is empty"):
        withdraw_hazard(id=uuid4(), hazard=hazard, reason="  ", by=cast.cleo, now=NOW)
    event = withdraw_hazard(id=uuid4(), hazard=hazard, reason="a shadow", by=cast.cleo, now=NOW)
    assert withdraw_hazard(id=uuid4(), hazard=hazard, reason="again", by=cast.cleo, now=NOW) == event
    hazard.refresh_from_db()
    assert hazard.state == "withdrawn"
    assert not open_hazards(cast.rink).exists()
    with pytest.raises(Refused, match="withdrawn as a mistake"):
        say(hazard, "marked", cast)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"x_m": 40.1}, "off the rink"),
        ({"y_m": -0.1}, "off the rink"),
        ({"y_m": None}, "Half of the point"),
        ({"x_m": None, "y_m": None}, "no place is given"),
        ({"zone_ids": (999999,)}, "not on this season's grid"),
        ({"kind": "goblin"}, "“goblin” is not known here"),
        ({"severity": "awful"}, "“awful” is not known here"),
        ({"found_at": NOW + dt.timedelta(days=3)}, "in the future"),
        ({"drift_depth_m": 0.4}, "Only a drift"),
        ({"kind": "drift", "drift_depth_m": 11.0}, "allowed is above 0 to 10 m"),
        ({"kind": "drift", "wind_from_deg": 360.0}, "allowed is 0 to below 360 degrees"),
    ],
)
def test_what_cannot_be_is_refused_by_a_sentence(cast: Cast, changes: dict, sentence: str) -> None:
    with pytest.raises(Refused, match=sentence):
        put_up(cast, **changes)
    assert not Hazard.objects.exists()


def test_a_broken_light_needs_no_place_and_a_drift_has_depth_and_wind(cast: Cast) -> None:
    assert put_up(cast, kind="light", x_m=None, y_m=None).zones.count() == 0
    drift = put_up(cast, kind="drift", drift_depth_m=0.6, wind_from_deg=315.0)
    assert (drift.drift_depth_m, drift.wind_from_deg) == (0.6, 315.0)


def test_an_event_before_the_find_or_in_the_future_is_refused(cast: Cast) -> None:
    hazard = put_up(cast)
    with pytest.raises(Refused, match="before the hazard was found"):
        say(hazard, "marked", cast, at=NOW - MINUTE)
    with pytest.raises(Refused, match="in the future"):
        say(hazard, "marked", cast, at=NOW + dt.timedelta(days=3))
    with pytest.raises(Refused, match="cannot be said"):
        say(hazard, "found", cast)


def test_a_repair_puts_a_hazard_under_repair_and_an_inspection_judges_it(cast: Cast) -> None:
    hazard = put_up(cast)
    patch = cast.flood(started_at=NOW + 10 * MINUTE)
    attach_entry(entry=patch, repaired=[hazard.id], by=cast.dag, now=NOW + 10 * MINUTE)
    attach_entry(entry=patch, repaired=[hazard.id], by=cast.dag, now=NOW + 11 * MINUTE)
    hazard.refresh_from_db()
    assert hazard.state == "under-repair"
    assert hazard.repairs.count() == 1
    assert hazard.events.count() == 2
    walk = cast.flood(started_at=NOW + 20 * MINUTE)
    attach_entry(entry=walk, judged={hazard.id: "back-again"}, by=cast.dag, now=NOW + 20 * MINUTE)
    hazard.refresh_from_db()
    assert hazard.state == "back-again"
    assert hazard.repairs.get().root == patch


def test_amending_undoing_and_withdrawing_an_entry_carry_its_hazards_along(cast: Cast) -> None:
    one, two = put_up(cast), put_up(cast)
    first = cast.flood(started_at=NOW + MINUTE)
    attach_entry(entry=first, repaired=[one.id], by=cast.cleo, now=NOW + MINUTE)
    second = cast.flood(started_at=NOW + MINUTE)
    type(first).objects.filter(id=first.id).update(state="replaced")
    type(second).objects.filter(id=second.id).update(root=first, amends=first)
    second.refresh_from_db()
    attach_entry(entry=second, repaired=[two.id], by=cast.cleo, now=NOW + 2 * MINUTE)

    def now_reads() -> list[str]:
        return [Hazard.objects.get(id=hazard.id).state for hazard in (one, two)]

    assert now_reads() == ["found", "under-repair"]
    reattach_entry(entry=first, now=NOW + 3 * MINUTE)  # the amendment was undone
    assert now_reads() == ["under-repair", "found"]
    assert [repair.hazard for repair in first.repairs.all()] == [one]
    detach_entry(entry=first, now=NOW + 4 * MINUTE)
    assert now_reads() == ["found", "found"]
    assert not first.repairs.exists()
    assert HazardEvent.objects.count() == 4


def test_a_hazard_of_another_rink_cannot_be_attached(cast: Cast) -> None:
    hazard = put_up(cast)
    Hazard.objects.filter(id=hazard.id).update(rink=cast.other_rink)
    with pytest.raises(Refused, match="1 of the picked hazards are not on this rink"):
        attach_entry(entry=cast.flood(), repaired=[hazard.id], by=cast.cleo, now=NOW)


DEEDS = st.lists(
    st.tuples(
        st.sampled_from(["marked", "under-repair", "holding", "back-again", "closed", "undo"]),
        st.integers(0, 20),
    ),
    max_size=12,
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(deeds=DEEDS)
def test_the_state_is_always_that_of_the_latest_event_that_counts(cast: Cast, deeds: list) -> None:
    hazard = put_up(cast)
    model: list[tuple[int, int, str]] = [(0, 0, "found")]  # a plain list is the other implementation
    last: tuple[HazardEvent, tuple[int, int, str]] | None = None
    for turn, (deed, minute) in enumerate(deeds, start=1):
        if deed == "undo":
            if last:
                undo_event(event=last[0], by=cast.cleo, now=NOW, within=dt.timedelta(hours=1))
                model.remove(last[1])
                last = None
            continue
        row = (minute, turn, deed)
        last = (say(hazard, deed, cast, at=NOW + minute * MINUTE), row)
        model.append(row)
    hazard.refresh_from_db()
    assert hazard.state == max(model)[2]
