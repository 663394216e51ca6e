"""Shifts on the page: who may do what to whose place, what was refused beside what it is about, windows into shifts."""

import datetime as dt
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from rinklog.advice.items import FrozenBy, Window
from rinklog.advice.models import Advice
from rinklog.plan import addresses
from rinklog.plan.models import Availability, HandOver, OnIce, RecurringTask, Shift, ShiftPlace
from rinklog.plan.queries.shifts import people_on
from rinklog.plan.services.sweep import question_shifts
from rinklog.telling.models import Message
from rinklog.upkeep.models import TaskRun
from tests.support.cast import Cast
from tests.support.counting import queries_of
from tests.support.shifts import (
    SOON,
    a_hand_over,
    a_line,
    a_place,
    a_recurring_task,
    a_run,
    a_shift,
    a_stay,
    a_team,
)


def signed_in(cast: Cast, login: str) -> Client:
    client = Client()
    client.force_login(getattr(cast, login))
    return client


def path(cast: Cast, name: str, **kwargs: object) -> str:
    return reverse(name, kwargs={"slug": cast.rink.slug, **kwargs})


def advise(cast: Cast, made_at: dt.datetime, *chances: float, starts_at: dt.datetime = SOON) -> Advice:
    """Advice with a window at each chance, a day apart."""
    windows = []
    for number, chance in enumerate(chances):
        at = starts_at + dt.timedelta(days=number)
        by = FrozenBy(at + dt.timedelta(hours=2), at + dt.timedelta(hours=3), at + dt.timedelta(hours=5))
        windows.append(Window(f"{at:%Y%m%dT%H}", at, 3.0, by, chance, at + dt.timedelta(hours=11)).to_json())
    return Advice.objects.create(rink=cast.rink, made_at=made_at, fingerprint="test", windows=windows)


def test_one_tap_takes_a_place_and_the_next_tap_is_refused_beside_the_shift(cast: Cast) -> None:
    shift = a_shift(cast, people_needed=1)
    take = path(cast, "shift-take", id=shift.id)
    assert signed_in(cast, "cleo").post(take, {"id": uuid4()}).status_code == 302
    refused = signed_in(cast, "dag").post(take, {"id": uuid4()})
    assert refused.status_code == 409
    assert "is full: every place is taken." in refused.content.decode()
    assert people_on(shift) == [cast.cleo]


def test_a_volunteer_touches_no_place_but_their_own(cast: Cast) -> None:
    place = a_place(cast, cast.cleo)
    dag = signed_in(cast, "dag")
    assert dag.post(path(cast, "place-leave", id=place.id)).status_code == 404
    assert dag.post(path(cast, "place-offer", id=place.id), {"to": cast.bo.id}).status_code == 404
    assert signed_in(cast, "bo").post(path(cast, "place-leave", id=place.id)).status_code == 302
    place.refresh_from_db()
    assert place.left_how == "taken-off"


def test_a_place_is_passed_on_from_page_to_page(cast: Cast) -> None:
    place = a_place(cast, cast.cleo)
    signed_in(cast, "cleo").post(path(cast, "place-offer", id=place.id), {"to": cast.dag.id})
    dag = signed_in(cast, "dag")
    assert "You are asked to take over" in dag.get(path(cast, "shifts")).content.decode()
    assert (
        dag.post(path(cast, "place-answer", id=place.id), {"answer": "yes", "id": uuid4()}).status_code == 302
    )
    assert people_on(place.shift) == [cast.dag]


def test_who_leads_calls_a_shift_off_and_another_volunteer_cannot(cast: Cast) -> None:
    a_team(cast)
    shift = Shift.objects.earliest("starts_at")
    off = path(cast, "shift-call-off", id=shift.id)
    assert signed_in(cast, "cleo").post(off, {"reason": "rain"}).status_code == 404
    assert signed_in(cast, "dag").post(off, {"reason": "rain"}).status_code == 302
    shift.refresh_from_db()
    assert shift.is_off
    assert Message.objects.filter(kind="shift-called-off", person=cast.cleo, text__contains="rain").exists()


def test_a_member_taken_off_the_crew_is_handed_back_and_told(cast: Cast) -> None:
    place = a_place(cast, cast.cleo)
    signed_in(cast, "ada").post(path(cast, "member-remove", id=cast.cleo.id))
    place.refresh_from_db()
    assert place.left_how == "left-crew"
    assert Message.objects.filter(kind="shift-handed-back", person=cast.cleo).count() == 1


def test_an_advised_window_becomes_a_shift_in_one_tap_like_the_last_one(cast: Cast) -> None:
    now = dt.datetime.now(dt.UTC)
    a_shift(cast, people_needed=3, skills=("torch",), starts_at=SOON + dt.timedelta(days=5))
    advise(cast, now - dt.timedelta(minutes=5), 0.8)
    bo = signed_in(cast, "bo")
    board = bo.get(path(cast, "shift-board")).content.decode()
    assert "likely to freeze a coat, 80" in board
    tap = path(cast, "shift-from-window", window=f"{SOON:%Y%m%dT%H}")
    id = uuid4()
    for _again in range(2):
        assert bo.post(tap, {"id": id}).status_code == 302
    shift = Shift.objects.get(id=id)
    assert (shift.starts_at, shift.people_needed, shift.skills) == (SOON, 3, ["torch"])
    assert shift.window is not None
    assert shift.window["chance"] == 0.8
    assert "likely to freeze a coat" not in bo.get(path(cast, "shift-board")).content.decode()


def test_a_window_that_fades_questions_its_shift_and_a_far_one_says_nothing(cast: Cast) -> None:
    window = {"id": "w", "chance": 0.8}
    near = a_shift(cast, window=window)
    far = a_shift(cast, window=window, starts_at=SOON + dt.timedelta(hours=30))
    now = SOON - dt.timedelta(hours=30)
    advise(cast, now, 0.65)
    assert question_shifts(rink=cast.rink, coordinators=[cast.bo], now=now) == 0
    advise(cast, now + dt.timedelta(hours=1), 0.3)
    for count in (1, 0):
        later = now + dt.timedelta(hours=2)
        assert question_shifts(rink=cast.rink, coordinators=[cast.bo], now=later) == count
    near.refresh_from_db()
    far.refresh_from_db()
    assert (near.question["key"], near.question["was"], near.question["found"]) == ("chance", 0.8, 0.3)
    assert far.questioned_at is None  # beyond what the advice looks at
    page = signed_in(cast, "bo").get(path(cast, "shift", id=near.id)).content.decode()
    assert "Likely to freeze in time: 30 %, it was 80 %." in page


def test_the_coordinator_puts_on_whom_the_roster_proposes_once(cast: Cast) -> None:
    for number in range(3):
        a_shift(cast, starts_at=SOON + dt.timedelta(days=2 * number))
    bo = signed_in(cast, "bo")
    page = bo.get(path(cast, "roster"))
    pairs, id = page.context["pairs"], uuid4()
    assert len(pairs) == 6
    for _again in range(2):
        assert bo.post(path(cast, "roster-accept"), {"pair": pairs, "id": id}).status_code == 302
    assert ShiftPlace.objects.filter(left_at=None).count() == 6


def test_the_roster_is_worked_out_again_around_what_is_pinned_and_crossed_out(cast: Cast) -> None:
    shift = a_shift(cast, people_needed=1)
    bo = signed_in(cast, "bo")
    pinned = bo.get(path(cast, "roster"), {f"add-{shift.id}": str(cast.dag.id)})
    assert pinned.context["pairs"] == [f"{cast.dag.id}.{shift.id}"]
    crossed = bo.get(path(cast, "roster"), {f"say-{cast.dag.id}.{shift.id}": "not"})
    assert not crossed.context["pairs"][0].startswith(str(cast.dag.id))
    assert crossed.context["banned"] == [f"{cast.dag.id}.{shift.id}"]


def test_a_rule_that_never_ends_comes_back_with_one_sentence_and_nothing_lost(cast: Cast) -> None:
    form = {
        "id": uuid4(), "round": "drill-round", "title": "Holes", "often": "WEEKLY", "interval": 2, "days": ["MO", "TH"],
        "at": "16:00", "span_minutes": "3", "begins_on": "2026-12-01", "colder_than_c": "-5",
    }  # fmt: skip
    ada = signed_in(cast, "ada")
    answer = ada.post(path(cast, "recurring-new"), form)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "The rule goes on for ever; give it a last day or a number of times." in page
    assert 'value="Holes"' in page
    assert ada.post(path(cast, "recurring-new"), form | {"ends_on": "2027-03-31"}).status_code == 302
    task = RecurringTask.objects.get()
    assert task.rule == "FREQ=WEEKLY;INTERVAL=2;BYDAY=MO,TH;UNTIL=20270331"
    assert (task.span_minutes, task.only_when) == (180, {"colder_than_c": -5.0})
    said = ada.get(path(cast, "recurring")).content.decode()
    assert "every 2 weeks on Monday, Thursday until 31 Mar 2027" in said
    changed = ada.get(path(cast, "recurring-change", id=task.id)).content.decode()
    assert 'value="2027-03-31"' in changed


def test_times_are_said_in_a_zone_of_ones_own_and_an_odd_one_is_refused(cast: Cast) -> None:
    line = {
        "id": uuid4(),
        "sort": "away",
        "weekday": "",
        "starts_at": "2026-12-24T18:00",
        "ends_at": "2026-12-26T12:00",
    }
    cleo = signed_in(cast, "cleo")
    assert cleo.post(path(cast, "my-times"), line | {"zone": "Europe/Rimvinkel"}).status_code == 422
    assert cleo.post(path(cast, "my-times"), line | {"zone": "America/New_York"}).status_code == 302
    # 18:00 in New York on Christmas Eve is 23:00 UTC.
    assert Availability.objects.get().starts_at == dt.datetime(2026, 12, 24, 23, tzinfo=dt.UTC)
    backwards = line | {"id": uuid4(), "zone": "Europe/Oslo", "ends_at": "2026-12-24T17:00"}
    assert "To is not after from" in cleo.post(path(cast, "my-times"), backwards).content.decode()


def test_a_line_is_removed_by_whose_it_is_only(cast: Cast) -> None:
    line = a_line(cast)
    assert signed_in(cast, "cleo").post(path(cast, "my-time-remove", id=line.id)).status_code == 404
    assert signed_in(cast, "dag").post(path(cast, "my-time-remove", id=line.id)).status_code == 302


def test_a_hand_over_holds_the_log_and_is_confirmed_by_each_reader_once(cast: Cast) -> None:
    now = dt.datetime.now(dt.UTC)
    cast.flood(started_at=now - dt.timedelta(hours=1), now=now)
    cleo = signed_in(cast, "cleo")
    cleo.post(
        path(cast, "hand-over-new"), {"id": uuid4(), "hose": "on the fence", "machines": "", "note": ""}
    )
    made = HandOver.objects.get()
    assert (made.facts["wet"], made.facts["water_m3"]) == (["A1", "A2"], 0.4)
    dag = signed_in(cast, "dag")
    assert "Hand-over from Cleo" in dag.get(path(cast, "shifts")).content.decode()
    for _again in range(2):
        dag.post(path(cast, "hand-over-read", id=made.id))
    assert "Hand-over from Cleo" not in dag.get(path(cast, "shifts")).content.decode()
    assert sorted(made.read.values_list("person__login", flat=True)) == ["cleo", "dag"]


def test_one_tap_on_the_ice_and_one_off(cast: Cast) -> None:
    a_stay(cast)  # Dag is there, whether it is dark now or not
    cleo = signed_in(cast, "cleo")
    for _again in range(2):
        assert cleo.post(path(cast, "go-on-ice"), {"id": uuid4()}).status_code == 302
    mine = OnIce.objects.get(person=cast.cleo)
    assert cleo.post(path(cast, "off-ice", id=mine.id)).status_code == 302
    mine.refresh_from_db()
    assert mine.off_at is not None


def test_a_failed_task_is_shown_with_its_reason_and_run_again_once(cast: Cast) -> None:
    run = a_run()
    ada = signed_in(cast, "ada")
    assert "no such host" in ada.get(path(cast, "runs")).content.decode()
    # Ada does not keep Rut's rink, and a task works for every rink.
    assert ada.post(path(cast, "run-again", id=run.id)).status_code == 404
    cast.other_rink.memberships.create(person=cast.ada, role="keeper", since=SOON)
    assert ada.post(path(cast, "run-again", id=run.id)).status_code == 302
    run.refresh_from_db()
    assert run.made_good_at is not None
    assert TaskRun.objects.count() == 1


def test_the_board_asks_as_few_questions_for_many_people_as_for_few(cast: Cast) -> None:
    from tests.support.cast import make_person

    a_shift(cast)
    bo = signed_in(cast, "bo")
    few = queries_of(bo, path(cast, "shift-board"))
    for number in range(30):
        a_place(
            cast,
            make_person(f"p{number}", cast.rink, "volunteer"),
            a_shift(cast, starts_at=SOON + dt.timedelta(hours=3 * number)),
        )
    assert queries_of(bo, path(cast, "shift-board")) == few
    assert few <= 15


@pytest.mark.parametrize("name", ["shift", "shift-board", "on-ice", "permissions", "hand-over"])
def test_messages_lead_to_pages_that_are_there(cast: Cast, name: str) -> None:
    shift, handed = a_shift(cast), a_hand_over(cast)
    led = {
        "shift": addresses.shift_path(shift),
        "shift-board": addresses.board_path(cast.rink),
        "on-ice": addresses.on_ice_path(cast.rink),
        "permissions": addresses.permissions_path(cast.rink),
        "hand-over": addresses.hand_over_path(handed),
    }
    things = {"shift": {"id": shift.id}, "hand-over": {"id": handed.id}}
    assert led[name] == path(cast, name, **things.get(name, {}))


def test_the_web_goes_on_while_the_queue_cannot_be_reached(cast: Cast, settings, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    from kombu.exceptions import OperationalError

    from rinklog.celery import app

    def unreachable(*_args: object, **_more: object) -> None:
        raise OperationalError("no Redis")

    monkeypatch.setattr(app.Task, "apply_async", unreachable)
    a_recurring_task(cast)
    shift = a_shift(cast)
    take = path(cast, "shift-take", id=shift.id)
    assert signed_in(cast, "cleo").post(take, {"id": uuid4()}).status_code == 302
    signed_in(cast, "bo").post(path(cast, "shift-call-off", id=shift.id), {"reason": "rain"})
    assert Message.objects.filter(person=cast.cleo, kind="shift-called-off").count() == 1  # kept, sent later
