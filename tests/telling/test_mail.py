"""Mail into a real server on loopback: once, gathered when it can wait, kept while the server is away."""

import datetime as dt
from collections.abc import Callable
from smtplib import SMTP
from typing import Any

import pytest
from django.test import Client

from rinklog.telling import sending
from rinklog.telling.models import Delivery
from rinklog.telling.queries import wishes_of
from rinklog.telling.stopping import stop_token
from tests.support.cast import NOW, Cast
from tests.support.mail_sink import Sink
from tests.support.messages import tell_one
from tests.telling.conftest import Clock

MINUTE, HOUR, DAY = dt.timedelta(minutes=1), dt.timedelta(hours=1), dt.timedelta(days=1)
ByMail = Callable[..., None]


def fates() -> list[tuple[str, str]]:
    """State and fate of every delivery, in order."""
    return list(Delivery.objects.order_by("id").values_list("state", "fate"))


def test_an_urgent_message_is_one_mail_to_each_who_wants_mail(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo, gather="hour")
    text = "The shift of Thursday is called off: it rains."
    tell_one(cast, cast.cleo, cast.dag, kind="shift-called-off", text=text)
    clock.send()
    clock.send(NOW + HOUR)
    assert mail_sink.to == ["cleo@rimvinkel.example"]
    (mail,) = mail_sink.arrived
    assert mail["Subject"] == f"Millpond Rink: {text}"
    assert mail["From"] == "rink@rimvinkel.example"
    assert mail["Auto-Submitted"] == "auto-generated"
    assert f"https://rink.rimvinkel.example/r/{cast.rink.slug}/log/" in mail.get_content()
    assert fates() == [("sent", "")]


def test_what_can_wait_is_gathered_into_one_mail_at_the_full_hour(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo, gather="hour")  # NOW is half past eight in the evening, UTC
    for minute in (0, 7, 21):
        tell_one(cast, cast.cleo, text=f"News of minute {minute}.", now=NOW + minute * MINUTE)
    clock.send(NOW + 29 * MINUTE)
    assert mail_sink.arrived == []
    clock.send(NOW + 30 * MINUTE)
    (mail,) = mail_sink.arrived
    assert mail["Subject"] == "Millpond Rink: 3 messages"
    said = mail.get_content()
    assert [said.index(f"minute {n}.") for n in (0, 7, 21)] == sorted(
        said.index(f"minute {n}.") for n in (0, 7, 21)
    )


def test_the_evenings_digest_goes_at_five_by_the_rinks_clock(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo, gather="evening")
    tell_one(cast, cast.cleo)
    five = dt.datetime(2026, 1, 16, 16, 0, tzinfo=dt.UTC)  # 17:00 in Oslo the day after
    clock.send(five - MINUTE)
    assert mail_sink.arrived == []
    clock.send(five)
    assert len(mail_sink.arrived) == 1


def test_a_server_away_for_a_day_costs_nothing_but_the_day(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo)
    by_mail(cast.dag)
    mail_sink.stop()
    for hour in range(24):
        tell_one(cast, cast.cleo, cast.dag, key=f"h{hour}", text=f"News {hour:02}.", now=NOW + hour * HOUR)
        clock.send(NOW + hour * HOUR)
    assert set(fates()) == {("waiting", "no-answer")}
    mail_sink.start()
    for later in (DAY, DAY + MINUTE, DAY + HOUR):
        clock.send(NOW + later)
    assert sorted(mail_sink.to) == ["cleo@rimvinkel.example", "dag@rimvinkel.example"]
    news = [f"News {hour:02}." for hour in range(24)]
    assert mail_sink.times_said(news) == dict.fromkeys(news, 2)
    assert set(fates()) == {("sent", "")}


def test_after_three_days_it_is_given_up_and_says_so(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo)
    mail_sink.stop()
    tell_one(cast, cast.cleo)
    clock.send(NOW + 3 * DAY - MINUTE)
    assert fates() == [("waiting", "no-answer")]
    clock.send(NOW + 3 * DAY + MINUTE)
    assert fates() == [("failed", "gave-up")]


@pytest.mark.parametrize(
    ("answer", "then"),
    [("550 no such mailbox", ("failed", "refused")), ("450 try later", ("waiting", "not-now"))],
)
def test_an_address_that_is_refused_stops_nobody_elses_mail(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink, answer: str, then: tuple[str, str]
) -> None:
    mail_sink.rcpt_answers["cleo@rimvinkel.example"] = answer
    for person in (cast.cleo, cast.dag):
        by_mail(person)
        tell_one(cast, person)
    clock.send()
    assert mail_sink.to == ["dag@rimvinkel.example"]
    assert fates() == [then, ("sent", "")]
    assert Delivery.objects.order_by("id")[0].detail == answer


def test_a_mailbox_that_says_later_is_asked_again_and_gets_it_once(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo)
    tell_one(cast, cast.cleo)
    mail_sink.data_answer = "452 mailbox full"
    clock.send()
    mail_sink.data_answer = "250 kept"
    clock.send(NOW + MINUTE)
    assert mail_sink.arrived == []  # two minutes' pause after the first try
    for minutes in (2, 3, 60):
        clock.send(NOW + minutes * MINUTE)
    assert len(mail_sink.arrived) == 1


def test_silence_after_the_body_is_never_answered_by_a_second_mail(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink, settings: Any
) -> None:
    settings.EMAIL_TIMEOUT = 0.5
    by_mail(cast.cleo)
    tell_one(cast, cast.cleo)
    mail_sink.hold_data_s = 1.5  # it arrived, but the answer comes after we hung up
    clock.send()
    mail_sink.hold_data_s = 0
    for hours in (1, 5, 24):
        clock.send(NOW + hours * HOUR)
    assert len(mail_sink.arrived) == 1
    assert fates() == [("failed", "unknown")]


def test_a_worker_that_died_before_handing_over_leaves_it_to_the_next_and_one_after_it_does_not(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    for person, handed in ((cast.cleo, False), (cast.dag, True)):
        by_mail(person)
        tell_one(cast, person)
        (line,) = sending.lines_due(now=NOW, most=9)
        claimed = sending.claim(line=line, now=NOW)
        assert claimed is not None
        if handed:
            claimed.hand_over(NOW)
    clock.send(NOW + MINUTE)
    assert mail_sink.arrived == []  # the claims may still be held by somebody slow
    clock.send(NOW + 3 * MINUTE)
    assert mail_sink.to == ["cleo@rimvinkel.example"]
    assert fates() == [("sent", ""), ("failed", "unknown")]


def test_a_slow_worker_whose_claim_lapsed_does_not_send_after_all(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink, monkeypatch: pytest.MonkeyPatch
) -> None:
    by_mail(cast.cleo)
    tell_one(cast, cast.cleo)
    rcpt, calls = SMTP.rcpt, []

    def slow(self: SMTP, *args: Any) -> Any:
        if not calls:
            calls.append(1)  # another worker comes by while this one waits for the server
            clock.send(NOW + 3 * MINUTE)
        return rcpt(self, *args)

    monkeypatch.setattr(SMTP, "rcpt", slow)
    clock.send(NOW)
    assert mail_sink.to == ["cleo@rimvinkel.example"]
    assert fates() == [("sent", "")]


def test_an_alarm_overtakes_the_news_that_was_due_before_it(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    for person in (cast.ada, cast.bo, cast.cleo):
        by_mail(person)
        tell_one(cast, person, now=NOW - HOUR)
    by_mail(cast.dag)
    tell_one(cast, cast.dag, kind="off-ice-alarm")
    clock.send()
    assert len(mail_sink.to) == 4
    assert mail_sink.to[0] == "dag@rimvinkel.example"


def test_whoever_switches_mail_off_gets_none_of_what_waits(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo, gather="hour")
    tell_one(cast, cast.cleo)
    by_mail(cast.cleo, by_mail=False)
    clock.send(NOW + HOUR)
    assert mail_sink.arrived == []
    assert fates() == [("failed", "unwanted")]


def test_whoever_gets_anothers_mail_stops_it_by_the_link_in_it(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo)
    by_mail(cast.dag)
    tell_one(cast, cast.cleo)
    clock.send()
    (mail,) = mail_sink.arrived
    link = mail["List-Unsubscribe"].strip(" <>")
    assert link.startswith("https://rink.rimvinkel.example/mail/stop/")
    assert f"Not for you? Stop it: {link}" in mail.get_content().replace("\n", " ")
    assert mail["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
    path = link.removeprefix("https://rink.rimvinkel.example")
    stranger = Client(enforce_csrf_checks=True)
    assert stranger.get(path).status_code == 200
    assert wishes_of(cast.cleo).by_mail  # opening it stops nothing
    assert stranger.post(path, {"List-Unsubscribe": "One-Click"}).status_code == 200
    assert not wishes_of(cast.cleo).by_mail
    assert wishes_of(cast.dag).by_mail
    assert stranger.post(path[:-2] + "x/").status_code == 404


def test_a_stop_link_dies_with_the_address_it_was_sent_to(cast: Cast, by_mail: ByMail) -> None:
    by_mail(cast.cleo)
    token = stop_token(person=cast.cleo, address="cleo@rimvinkel.example")
    by_mail(cast.cleo, mail_address="cleo@elsewhere.example")
    assert Client().post(f"/mail/stop/{token}/").status_code == 404
    assert wishes_of(cast.cleo).by_mail


def test_a_message_cannot_write_its_own_headers(
    cast: Cast, clock: Clock, by_mail: ByMail, mail_sink: Sink
) -> None:
    by_mail(cast.cleo)
    tell_one(cast, cast.cleo, text="Lights out.\r\nBcc: all@rimvinkel.example\r\n.\r\nQUIT")
    clock.send()
    (mail,) = mail_sink.arrived
    assert mail["Bcc"] is None
    assert mail_sink.to == ["cleo@rimvinkel.example"]
    assert "QUIT" in mail.get_content()
