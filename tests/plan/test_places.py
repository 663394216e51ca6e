"""Taking, giving back, passing on: who gets a place, and why somebody does not."""

import datetime as dt
from uuid import uuid4

import pytest

from rinklog.facts import Conflict, Refused
from rinklog.plan.models import ShiftPlace
from rinklog.plan.queries.shifts import people_on
from rinklog.plan.services import places, shifts
from rinklog.telling.models import Message
from tests.support.cast import Cast
from tests.support.shifts import SOON, a_place, a_shift, allow

NOW = SOON - dt.timedelta(days=1)


def took(cast: Cast, shift, login: str) -> ShiftPlace:  # type: ignore[no-untyped-def]
    person = getattr(cast, login)
    return places.take(id=uuid4(), shift=shift, person=person, by=person, now=NOW)


def test_the_last_place_goes_to_one_and_the_other_is_told(cast: Cast) -> None:
    shift = a_shift(cast, people_needed=1)
    took(cast, shift, "cleo")
    with pytest.raises(Refused, match="is full"):
        took(cast, shift, "dag")
    assert people_on(shift) == [cast.cleo]


def test_a_tap_twice_is_one_place_and_another_persons_id_is_a_conflict(cast: Cast) -> None:
    shift, id = a_shift(cast), uuid4()
    for _again in range(2):
        places.take(id=id, shift=shift, person=cast.cleo, by=cast.cleo, now=NOW)
    took(cast, shift, "cleo")
    assert ShiftPlace.objects.count() == 1
    with pytest.raises(Conflict):
        places.take(id=id, shift=shift, person=cast.dag, by=cast.dag, now=NOW)


def test_a_place_given_back_can_be_taken_by_somebody_else(cast: Cast) -> None:
    shift = a_shift(cast, people_needed=1)
    places.give_back(place=took(cast, shift, "cleo"), by=cast.cleo, now=NOW)
    assert took(cast, shift, "dag").number == 1
    assert set(ShiftPlace.objects.values_list("left_how", flat=True)) == {"given-back", ""}


def test_a_place_passed_on_stays_ones_own_until_it_is_accepted(cast: Cast) -> None:
    place = a_place(cast)
    places.offer(place=place, to=cast.dag, by=cast.cleo, now=NOW)
    assert people_on(place.shift) == [cast.cleo]
    mine = places.accept(id=uuid4(), place=place, by=cast.dag, now=NOW)
    assert (people_on(place.shift), mine.number) == ([cast.dag], place.number)
    with pytest.raises(Refused, match="left meanwhile"):
        places.accept(id=uuid4(), place=place, by=cast.dag, now=NOW)


def test_who_was_not_asked_cannot_take_a_place_over(cast: Cast) -> None:
    place = a_place(cast)
    with pytest.raises(Refused, match="no longer offered"):
        places.accept(id=uuid4(), place=place, by=cast.dag, now=NOW)


def test_the_last_place_is_kept_for_a_skill_that_is_missing(cast: Cast) -> None:
    shift = a_shift(cast, skills=("torch",))
    took(cast, shift, "cleo")
    with pytest.raises(Refused, match="kept for somebody with: torch"):
        took(cast, shift, "dag")
    allow(cast, cast.dag, "torch")
    took(cast, shift, "dag")


def test_a_permission_that_runs_out_before_the_shift_does_not_count(cast: Cast) -> None:
    shift = a_shift(cast, everybody=("waiver",))
    allow(cast, cast.cleo, "waiver", until=SOON.date() - dt.timedelta(days=1))
    with pytest.raises(Refused, match="Everybody on this shift needs: waiver signed"):
        took(cast, shift, "cleo")
    allow(cast, cast.dag, "waiver", until=SOON.date())
    took(cast, shift, "dag")


def test_nobody_is_on_two_shifts_at_once(cast: Cast) -> None:
    took(cast, a_shift(cast), "cleo")
    later = a_shift(cast, work="hut", starts_at=SOON + dt.timedelta(hours=1))
    with pytest.raises(Refused, match="on another shift then"):
        took(cast, later, "cleo")
    took(cast, a_shift(cast, work="hut", starts_at=SOON + dt.timedelta(hours=2)), "cleo")


@pytest.mark.parametrize("login", ["eli", "rut"])
def test_a_guest_and_somebody_of_another_crew_take_no_place(cast: Cast, login: str) -> None:
    with pytest.raises(Refused, match="not on this crew"):
        took(cast, a_shift(cast), login)


def test_what_is_called_off_or_over_takes_nobody(cast: Cast) -> None:
    shift = a_shift(cast)
    shifts.call_off(shift=shift, reason="rain", by=cast.bo, now=NOW)
    with pytest.raises(Refused, match="called off"):
        took(cast, shift, "cleo")
    over = a_shift(cast, starts_at=SOON - dt.timedelta(days=1, hours=20))
    with pytest.raises(Refused, match="is over"):
        took(cast, over, "cleo")


def test_somebody_off_the_crew_is_handed_back(cast: Cast) -> None:
    place = a_place(cast)
    assert places.hand_back_all(rink_id=cast.rink.id, person=cast.cleo, now=NOW) == 1
    assert places.hand_back_all(rink_id=cast.rink.id, person=cast.cleo, now=NOW) == 0
    place.refresh_from_db()
    assert place.left_how == "left-crew"


def test_what_happens_is_told_once_to_whom_it_concerns(cast: Cast) -> None:
    shift = a_shift(cast)
    places.take(id=uuid4(), shift=shift, person=cast.cleo, by=cast.bo, now=NOW)
    took(cast, shift, "dag")
    for _again in range(2):
        shifts.call_off(shift=shift, reason="too warm", by=cast.bo, now=NOW)
    told = list(Message.objects.values_list("person__login", "kind").order_by("person__login", "kind"))
    # Dag took it himself and need not be told so.
    assert told == [("cleo", "shift-assigned"), ("cleo", "shift-called-off"), ("dag", "shift-called-off")]
    assert "too warm" in Message.objects.filter(kind="shift-called-off")[0].text


def told_of_places() -> list[tuple[str, str]]:
    """Who was told what about places."""
    rows = Message.objects.exclude(kind="shift-offered").order_by("person__login", "kind")
    return list(rows.values_list("person__login", "kind"))


def test_a_place_given_back_is_coordinators_news_only_when_the_shift_is_soon(cast: Cast) -> None:
    early, late = a_shift(cast), a_shift(cast, starts_at=SOON + dt.timedelta(hours=3))
    for shift, before in ((early, dt.timedelta(hours=30)), (late, dt.timedelta(hours=5))):
        place = took(cast, shift, "cleo")
        for _again in range(2):
            places.give_back(place=place, by=cast.cleo, now=shift.starts_at - before)
    assert told_of_places() == [("ada", "shift-handed-back"), ("bo", "shift-handed-back")]
    assert "Cleo cannot come after all" in Message.objects.all()[0].text


def test_whoever_is_taken_off_hears_of_it(cast: Cast) -> None:
    places.give_back(place=a_place(cast), by=cast.bo, now=NOW)
    assert told_of_places() == [("cleo", "shift-taken-off")]


def test_whoever_asked_hears_the_answer(cast: Cast) -> None:
    place = a_place(cast)
    places.offer(place=place, to=cast.bo, by=cast.cleo, now=NOW)
    for _again in range(2):
        places.decline(place=place, by=cast.bo, now=NOW)
    places.offer(place=place, to=cast.dag, by=cast.cleo, now=NOW)
    places.accept(id=uuid4(), place=place, by=cast.dag, now=NOW)
    assert told_of_places() == [("cleo", "shift-taken")] * 2
    texts = " ".join(Message.objects.filter(kind="shift-taken").values_list("text", flat=True))
    assert "Bo cannot take over, so it stays yours" in texts
    assert "Dag takes over from you" in texts


def test_a_move_is_told_each_time_with_the_time_before(cast: Cast) -> None:
    place = a_place(cast)
    for hours in (1, 2):
        later = SOON + dt.timedelta(hours=hours)
        shifts.move(shift=place.shift, starts_at=later, minutes=120, by=cast.bo, now=NOW)
        shifts.move(shift=place.shift, starts_at=later, minutes=120, by=cast.bo, now=NOW)
    texts = (
        Message.objects.filter(kind="shift-moved").order_by("made_at", "text").values_list("text", flat=True)
    )
    assert [text.count(":") for text in texts] == [3, 3]  # "Moved:", and two times of the clock
