"""Dates of grants, insurance, permits: told 30, 7 and 1 day before and once when over; each once, however often asked."""

import datetime as dt

import pytest
from django.test import Client

from rinklog.celery import TIMETABLE
from rinklog.facts import Refused
from rinklog.owed.models import Deadline
from rinklog.owed.reminding import stage
from rinklog.owed.services import end_deadline
from rinklog.owed.telling import remind
from rinklog.telling.models import Message
from tests.support.cast import NOW, Cast
from tests.support.loans import TODAY, a_deadline

pytestmark = pytest.mark.django_db
DAY = dt.timedelta(days=1)


def told(person: object) -> list[str]:
    return list(
        Message.objects.filter(person=person, kind="paper-due")
        .order_by("made_at")
        .values_list("text", flat=True)
    )


def test_a_daily_sweep_tells_each_stage_once_to_those_who_see_papers(cast: Cast) -> None:
    a_deadline(cast, days=40)
    for day in range(46):
        for hours in (0, 6, 12):
            remind(now=NOW + day * DAY + dt.timedelta(hours=hours / 6))
    # 40 days from 15 January is 24 February.
    assert (
        told(cast.ada)
        == told(cast.bo)
        == [
            "Application to the town (grant) is due on 24 February 2026, in 30 days.",
            "Application to the town (grant) is due on 24 February 2026, in 7 days.",
            "Application to the town (grant) is due on 24 February 2026, in 1 day.",
            "Application to the town (grant) was due on 24 February 2026 and is not marked as done.",
        ]
    )
    assert told(cast.cleo) == told(cast.eli) == told(cast.rut) == []


def test_a_missed_sweep_is_made_good_and_a_late_start_tells_only_the_nearest(cast: Cast) -> None:
    a_deadline(cast, days=5)
    remind(now=NOW)
    assert told(cast.ada) == ["Application to the town (grant) is due on 20 January 2026, in 5 days."]
    assert [stage(days) for days in (31, 30, 8, 7, 2, 1, 0, -1, -400)] == [None, 30, 30, 7, 7, 1, 1, -1, -1]


def test_each_reader_is_told_in_their_own_language(cast: Cast) -> None:
    cast.bo.language = "fr"
    cast.bo.save()
    a_deadline(cast, days=5)
    remind(now=NOW)
    assert told(cast.ada)[0].endswith("is due on 20 January 2026, in 5 days.")
    assert told(cast.bo)[0].endswith("est à remettre le 20 janvier 2026, dans 5 jours.")


def test_what_is_done_or_dropped_is_told_no_more_and_a_yearly_one_stands_again(cast: Cast) -> None:
    done, dropped = a_deadline(cast, days=3, yearly=True), a_deadline(cast, days=3, what="Other")
    end = {"by": cast.ada, "now": NOW, "today": TODAY}
    again = end_deadline(deadline=done, done=True, **end)  # type: ignore[arg-type]
    assert again is not None
    assert again.due_on == dt.date(2027, 1, 18)
    assert end_deadline(deadline=done, done=True, **end) == again  # type: ignore[arg-type]
    end_deadline(deadline=dropped, done=False, **end)  # type: ignore[arg-type]
    remind(now=NOW)
    assert told(cast.ada) == []
    assert Deadline.objects.count() == 3


def test_the_day_is_the_rinks_own(cast: Cast) -> None:
    a_deadline(cast, days=8)
    remind(now=dt.datetime(2026, 1, 15, 22, 59, tzinfo=dt.UTC))  # 23:59 in Oslo: eight days are left
    remind(now=dt.datetime(2026, 1, 15, 23, 1, tzinfo=dt.UTC))  # 00:01 of the 16th: seven
    assert [text.rpartition(", ")[2] for text in told(cast.ada)] == ["in 8 days.", "in 7 days."]


def test_a_day_that_is_over_is_refused(cast: Cast) -> None:
    for days in (-1, 3000):
        with pytest.raises(Refused, match="allowed is from today on"):
            a_deadline(cast, days=days)


def test_the_timetable_sweeps_at_least_daily() -> None:
    task, every = TIMETABLE["papers"]
    assert task == "owed.remind"
    assert isinstance(every, dt.timedelta)
    assert every <= DAY


def test_the_page_shows_what_is_to_come_and_only_to_those_who_may(cast: Cast, client: Client) -> None:
    one = a_deadline(cast, days=3000 - 2900)
    path = f"/r/{cast.rink.slug}/records/dates/"
    for login, status in {"ada": 200, "bo": 200, "cleo": 404, "eli": 404, "rut": 404}.items():
        client.force_login(getattr(cast, login))
        assert client.get(path).status_code == status, login
    client.force_login(cast.bo)
    assert "Application to the town" in client.get(path).content.decode()
    assert client.post(f"{path}{one.id}/end/", {"done": "perhaps"}).status_code == 422
    assert client.post(f"{path}{one.id}/end/", {"done": "yes"}).status_code == 302
    one.refresh_from_db()
    assert one.done_by == cast.bo
