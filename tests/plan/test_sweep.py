"""What the clock does for a rink: questions, missing people, reminders, teams; everything told once."""

import datetime as dt
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest

from rinklog.facts import Refused
from rinklog.plan.models import OnIce, Shift, Team
from rinklog.plan.rules.availability import Line
from rinklog.plan.services.on_ice import alarm, come_off, go_on
from rinklog.plan.services.people import say_availability
from rinklog.plan.services.shifts import call_off, keep, move
from rinklog.plan.services.sweep import sweep_rink
from rinklog.plan.services.teams import save_team
from rinklog.plan.tasks import sweep, watch_ice
from rinklog.telling.models import Message
from rinklog.weather.hours import Hour
from rinklog.weather.services import store_observations
from tests.support.cast import Cast
from tests.support.shifts import SOON, a_place, a_shift, allow

OSLO = ZoneInfo("Europe/Oslo")


def hours(number: float) -> dt.timedelta:
    return dt.timedelta(hours=number)


def told(kind: str) -> list[str]:
    return sorted(Message.objects.filter(kind=kind).values_list("person__login", flat=True))


def swept(cast: Cast, now: dt.datetime) -> None:
    for _again in range(2):
        sweep_rink(rink=cast.rink, now=now)


def warm(cast: Cast, air_c: float, precip_mm: float = 0.0) -> None:
    seen = [Hour(SOON + hours(n), air_c=air_c, precip_mm=precip_mm) for n in range(3)]
    store_observations(rink=cast.rink, source="test", hours=seen, recorded_at=SOON)


def test_a_flood_shift_is_questioned_when_it_will_not_be_cold_and_everybody_concerned_is_told_once(
    cast: Cast,
) -> None:
    place = a_place(cast)
    warm(cast, -1.0)
    swept(cast, SOON - hours(20))
    shift = Shift.objects.get()
    assert (shift.question["key"], shift.question["found"]) == ("too-warm", -1.0)
    words = dict(Message.objects.filter(kind="shift-questioned").values_list("person__login", "text"))
    assert told("shift-questioned") == ["ada", "bo", "cleo"]
    assert "call it off" in words["bo"]
    assert "A coordinator decides" in words["cleo"]  # she is on it
    assert place.left_at is None
    assert not shift.is_off  # a person decides


def test_kept_in_spite_of_the_cold_it_is_not_asked_again(cast: Cast) -> None:
    shift = a_shift(cast)
    warm(cast, -1.0)
    swept(cast, SOON - hours(20))
    keep(shift=shift, by=cast.bo, now=SOON - hours(19))
    swept(cast, SOON - hours(18))
    assert Shift.objects.get().questioned_at is None
    assert told("shift-questioned") == ["ada", "bo"]


def test_what_was_decided_of_a_questioned_shift_is_told_to_who_is_on_it(cast: Cast) -> None:
    shift = a_place(cast).shift
    warm(cast, -1.0)
    swept(cast, SOON - hours(20))
    for _again in range(2):
        keep(shift=shift, by=cast.bo, now=SOON - hours(19))
    texts = Message.objects.filter(person=cast.cleo, kind="shift-questioned").values_list("text", flat=True)
    assert sum("takes place in spite of the forecast" in text for text in texts) == 1


def test_a_cold_dry_night_and_house_work_are_not_questioned(cast: Cast) -> None:
    a_shift(cast, work="hut", starts_at=SOON + hours(1))
    cold = a_shift(cast)
    warm(cast, -9.0)
    swept(cast, SOON - hours(20))
    assert not Shift.objects.exclude(questioned_at=None).exists()
    assert cold.question == {}


def test_snow_through_the_whole_shift_puts_it_in_question(cast: Cast) -> None:
    a_shift(cast)
    warm(cast, -9.0, precip_mm=0.4)
    swept(cast, SOON - hours(20))
    assert Shift.objects.get().question["key"] == "snow"


def test_a_shift_that_lacks_people_is_told_to_coordinators_twice_and_to_who_could_come_once(
    cast: Cast,
) -> None:
    a_place(cast)
    swept(cast, SOON - hours(25))
    assert told("shift-unfilled") == []
    swept(cast, SOON - hours(23))
    swept(cast, SOON - hours(10))
    assert told("shift-unfilled") == ["ada", "bo"]
    swept(cast, SOON - hours(3))
    assert told("shift-unfilled") == ["ada", "ada", "bo", "bo"]
    assert told("shift-offered") == ["ada", "bo", "dag"]  # not Cleo, who is on it, nor Eli, a guest


def test_a_shift_that_is_moved_and_lacks_people_is_told_of_anew(cast: Cast) -> None:
    place = a_place(cast)
    swept(cast, SOON - hours(20))
    move(shift=place.shift, starts_at=SOON + hours(2), minutes=120, by=cast.bo, now=SOON - hours(19))
    swept(cast, SOON - hours(18))
    assert told("shift-unfilled") == ["ada", "ada", "bo", "bo"]
    assert told("shift-offered") == ["ada", "ada", "bo", "bo", "dag", "dag"]


def test_everybody_on_it_is_reminded_once(cast: Cast) -> None:
    a_place(cast)
    swept(cast, SOON - hours(9))
    swept(cast, SOON - hours(8))
    assert told("shift-reminder") == ["cleo"]


def test_a_team_has_its_evenings_with_the_leader_first_and_each_only_once(cast: Cast) -> None:
    now = SOON - hours(30)
    save_team(
        id=uuid4(), rink=cast.rink, name="Tuesday", weekday=1, starts_at=dt.time(20), minutes=120,
        leader=cast.dag, people=[cast.cleo], by=cast.bo, now=now,
    )  # fmt: skip
    swept(cast, now)
    shifts = list(Shift.objects.all())
    assert len(shifts) == 2
    assert {shift.night.weekday() for shift in shifts} == {1}
    assert [(place.person, place.leads) for place in shifts[0].places.all()] == [
        (cast.dag, True),
        (cast.cleo, False),
    ]
    call_off(shift=shifts[0], reason="too warm", by=cast.dag, now=now)
    swept(cast, now)
    assert Shift.objects.count() == 2  # what was called off is not made again
    assert Team.objects.count() == 1


def test_of_a_team_nobody_is_put_on_who_is_gone_away_or_elsewhere(cast: Cast) -> None:
    now = SOON - hours(30)
    away = Line("away", "Europe/Oslo", starts_at=SOON - hours(3), ends_at=SOON + hours(3))
    say_availability(id=uuid4(), rink=cast.rink, person=cast.dag, line=away, now=now)
    hut = a_shift(cast, work="hut", starts_at=SOON + hours(1), made_at=now)
    a_place(cast, cast.cleo, hut)
    save_team(
        id=uuid4(), rink=cast.rink, name="Team", weekday=SOON.astimezone(OSLO).weekday(), starts_at=dt.time(20),
        minutes=300, leader=cast.dag, people=[cast.cleo, cast.bo, cast.ada], by=cast.bo, now=now,
    )  # fmt: skip
    evenings = list(Shift.objects.exclude(team=None))
    first, second = ([place.person for place in one.places.filter(left_at=None)] for one in evenings)
    assert first == [cast.ada, cast.bo]
    assert second == [cast.dag, cast.ada, cast.bo, cast.cleo]
    assert [one.people_needed for one in evenings] == [
        4,
        4,
    ]  # the places stay open, and coordinators hear of them
    cast.rink.memberships.filter(person=cast.cleo).update(left_at=now)
    swept(cast, now + dt.timedelta(days=7))
    third = Shift.objects.exclude(team=None).latest("starts_at")
    assert not third.places.filter(person=cast.cleo).exists()


def test_a_leader_is_reminded_to_call_it_off_when_it_is_not_cold(cast: Cast) -> None:
    now = SOON - hours(30)
    save_team(
        id=uuid4(), rink=cast.rink, name="Team", weekday=SOON.weekday(), starts_at=dt.time(20), minutes=120,
        leader=cast.dag, people=[cast.cleo], by=cast.bo, now=now,
    )  # fmt: skip
    swept(cast, SOON - hours(6))
    words = dict(Message.objects.filter(kind="shift-reminder").values_list("person__login", "text"))
    assert "Call it off if it is not cold" in words["dag"]
    assert "Call it off" not in words["cleo"]


def test_whoever_left_the_crew_is_handed_back_by_the_sweep_too(cast: Cast) -> None:
    a_place(cast)
    cast.rink.memberships.filter(person=cast.cleo).update(left_at=SOON - hours(31))
    swept(cast, SOON - hours(30))
    assert told("shift-handed-back") == ["ada", "bo", "cleo"]
    assert not Shift.objects.get().places.filter(left_at=None).exists()


def test_a_permission_that_runs_out_is_told_in_time(cast: Cast) -> None:
    allow(cast, cast.cleo, "torch", until=SOON.date() + dt.timedelta(days=20))
    allow(cast, cast.dag, "torch", until=SOON.date() + dt.timedelta(days=90))
    swept(cast, SOON)
    assert told("permission-expires") == ["ada", "bo", "cleo"]


# On 15 January at 20:00 UTC it is dark at the rink; at 11:00 UTC it is not.
DARK, LIGHT = (dt.datetime(2026, 1, 15, hour, tzinfo=dt.UTC) for hour in (20, 11))


def on(cast: Cast, person: object, now: dt.datetime, **more: object) -> OnIce:
    return go_on(id=uuid4(), rink=cast.rink, person=person, by=person, now=now, **more)  # type: ignore[arg-type]


def test_nobody_goes_on_the_ice_alone_after_dark(cast: Cast) -> None:
    with pytest.raises(Refused, match="nobody goes on the ice alone"):
        on(cast, cast.cleo, DARK)
    come_off(stay=on(cast, cast.cleo, LIGHT), by=cast.cleo, now=LIGHT + hours(1))
    stays = go_on(
        id=uuid4(), rink=cast.rink, person=cast.dag, by=cast.dag, now=LIGHT, off_by=LIGHT + hours(11)
    )
    assert on(cast, cast.cleo, DARK).person == cast.cleo  # Dag is there already
    assert stays.off_at is None


def test_a_second_person_on_the_shift_or_a_name_that_answers_lets_one_go_on(cast: Cast) -> None:
    shift = a_shift(cast, starts_at=DARK, made_at=LIGHT)
    a_place(cast, cast.cleo, shift)
    with pytest.raises(Refused, match="answer for it by name"):
        on(cast, cast.cleo, DARK, shift=shift)
    a_place(cast, cast.dag, shift)
    assert on(cast, cast.cleo, DARK, shift=shift).off_by == shift.ends_at


def test_whoever_is_on_the_hut_shift_is_nobodys_second_on_the_ice(cast: Cast) -> None:
    hut = a_shift(cast, work="hut", starts_at=DARK, made_at=LIGHT)
    for person in (cast.cleo, cast.dag):
        a_place(cast, person, hut)
    with pytest.raises(Refused, match="nobody goes on the ice alone"):
        on(cast, cast.cleo, DARK, shift=hut)


def test_who_is_not_off_in_time_raises_one_alarm_after_the_time_of_grace(cast: Cast) -> None:
    stay = on(cast, cast.cleo, LIGHT, off_by=LIGHT + hours(1))
    assert not alarm(id=stay.id, now=LIGHT + hours(1.2))
    assert alarm(id=stay.id, now=LIGHT + hours(1.26))  # 15 minutes after
    assert not alarm(id=stay.id, now=LIGHT + hours(1.3))
    assert told("off-ice-alarm") == ["ada", "bo"]


def test_who_is_off_raises_none(cast: Cast) -> None:
    stay = on(cast, cast.cleo, LIGHT, off_by=LIGHT + hours(1))
    come_off(stay=stay, by=cast.dag, now=LIGHT + hours(0.9))
    assert not alarm(id=stay.id, now=LIGHT + hours(2))


def test_the_tasks_of_the_clock_do_the_same(cast: Cast, django_capture_on_commit_callbacks) -> None:  # type: ignore[no-untyped-def]
    a_place(cast, None, a_shift(cast, starts_at=SOON - hours(36), made_at=SOON - hours(60)))
    OnIce.objects.create(
        rink=cast.rink, person=cast.cleo, on_at=LIGHT, off_by=LIGHT + hours(1), noted_by=cast.cleo
    )
    with django_capture_on_commit_callbacks(execute=True):
        sweep()
        watch_ice()
    assert "ada" in told("off-ice-alarm")
