"""The client against a real server on this machine that answers well, badly, slowly or not at all."""

import datetime as dt

import pytest

from rinklog.weather import client
from rinklog.weather.client import Manners, NoAnswer, get, life
from tests.support.weather_service import Reply, Service

US = Manners("MET Norway", "rinklog/0 keeper@rimvinkel.example")


@pytest.fixture(autouse=True)
def _impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    """As the real thing, only quicker."""
    monkeypatch.setattr(client, "READ_S", 0.3)
    monkeypatch.setattr(client, "WHOLE_S", 0.6)
    monkeypatch.setattr(client, "BACK_OFF_S", 0.01)


def complaint(service: Service, *replies: Reply) -> NoAnswer:
    """What is said when the service answers so."""
    service.will(*replies)
    with pytest.raises(NoAnswer) as caught:
        get(service.url + "/x", US)
    return caught.value


def test_who_asks_is_said_and_only_what_is_new_is_asked_for(service: Service) -> None:
    service.will(
        Reply(b'{"a": 1}', headers={"ETag": '"7"', "Last-Modified": "Thu, 15 Jan 2026 11:00:00 GMT"}),
        Reply(status=304, headers={"Cache-Control": "max-age=600"}),
    )
    first = get(service.url + "/x", US)
    assert first.body == b'{"a": 1}'
    again = get(service.url + "/x", US, etag=first.etag, last_modified=first.last_modified)
    assert (again.body, again.life) == (None, dt.timedelta(minutes=10))
    (_, one), (_, two) = service.asked
    assert one["user-agent"] == US.agent
    assert "if-none-match" not in one
    assert (two["if-none-match"], two["if-modified-since"]) == ('"7"', "Thu, 15 Jan 2026 11:00:00 GMT")


def test_a_packed_answer_is_unpacked(service: Service) -> None:
    body = b'{"a": "' + b"cold " * 100_000 + b'"}'
    service.will(Reply(body, headers={"Content-Encoding": "gzip"}, pieces=7))
    assert get(service.url, US).body == body


@pytest.mark.parametrize(
    ("reply", "code", "word"),
    [
        (Reply(status=403), "refused", "check the contact"),
        (Reply(status=404), "nowhere", "nothing for this place"),
        (Reply(status=500), "failed", "answered 500"),
        (Reply(status=418), "failed", "answered 418"),
        (Reply(b'{"a": ', says=500), "cut-off", "was cut off"),
        (Reply(b"{}", pause_s=0.6), "slow", "did not answer within 0.3 s"),
        (Reply(b"x" * 40, pause_s=0.1, pieces=20), "slow", "was still sending after 0.6 s"),
        (Reply(hang_up=True), "cut-off", "was cut off"),
        (Reply(status=302, headers={"Location": "/x"}), "redirects", "in circles"),
        (
            Reply(status=302, headers={"Location": "http://elsewhere.example/x"}),
            "redirects",
            "elsewhere.example",
        ),
    ],
)
def test_every_bad_answer_has_its_sentence(service: Service, reply: Reply, code: str, word: str) -> None:
    said = complaint(service, reply)
    assert said.code == code
    assert word in said.sentence
    assert "MET Norway" in said.sentence


def test_an_answer_without_end_is_given_up(service: Service, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(client, "MOST_BYTES", 2**20)
    said = complaint(service, Reply(b"x" * (2**20 + 1)))
    assert said.code == "too-large"
    bomb = Reply(b"0" * 2**22, headers={"Content-Encoding": "gzip"})  # four megabytes in four kilobytes
    assert complaint(service, bomb).code == "too-large"


def test_nobody_there_is_said(service: Service) -> None:
    with pytest.raises(NoAnswer, match="cannot be reached"):
        get("http://127.0.0.1:9/x", US)


def test_a_passing_fault_is_tried_again_with_a_pause(service: Service) -> None:
    service.will(Reply(status=503), Reply(hang_up=True), Reply(b"{}"))
    assert get(service.url + "/x", US).body == b"{}"
    assert len(service.asked) == 3


@pytest.mark.parametrize(
    ("said", "minutes"),
    [
        ("120", 2),
        ("5", 1),
        ("999999", 1440),
        ("Thu, 15 Jan 2026 12:30:00 GMT", 30),  # the service's own Date is 12:00
        ("soon", 15),
    ],
)
def test_retry_after_is_honoured_within_a_minute_and_a_day(service: Service, said: str, minutes: int) -> None:
    wait = complaint(service, Reply(status=429, headers={"Retry-After": said})).wait
    assert wait == dt.timedelta(minutes=minutes)


def test_a_redirect_within_the_service_is_followed(service: Service) -> None:
    service.will(Reply(status=301, headers={"Location": "/points/40.7,-74"}), Reply(b"{}"))
    assert get(service.url + "/points/40.70,-74.0", US).body == b"{}"
    assert service.paths == ["/points/40.70,-74.0", "/points/40.7,-74"]


def test_expires_counts_from_the_services_own_date() -> None:
    # RFC 9111, 4.2.1: max-age, else Expires minus Date
    sent = {"Date": "Thu, 15 Jan 2026 12:00:00 GMT", "Expires": "Thu, 15 Jan 2026 12:31:00 GMT"}
    assert life(sent) == dt.timedelta(minutes=31)
    assert life(sent | {"Cache-Control": "public, max-age=60"}) == dt.timedelta(minutes=1)
    assert life(sent | {"Expires": "0"}) is None
    assert life(sent | {"Expires": "Thu, 15 Jan 2025 12:31:00 GMT"}) == dt.timedelta(0)
    assert life({}) is None
