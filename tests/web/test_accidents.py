"""Accident and near-miss reports: anyone on the crew writes, keeper and coordinators read."""

from uuid import uuid4

import pytest
from django.test import Client

from rinklog.records.models import AccidentReport
from tests.support.cast import Cast
from tests.support.counting import queries_of
from tests.support.records import an_accident

SECRET = "hit the post with a shoulder"


def signed_in(cast: Cast, login: str) -> Client:
    client = Client()
    client.force_login(getattr(cast, login))
    return client


def room(cast: Cast, page: str = "") -> str:
    return f"/r/{cast.rink.slug}/records/accidents/{page}"


def post(**changes: object) -> dict[str, object]:
    sent: dict[str, object] = {
        "id": str(uuid4()),
        "when": "2026-01-15T21:00",
        "kind": "accident",
        "what_happened": SECRET,
        "seen_air": "14 °F",
    }
    return sent | changes


def test_a_volunteer_writes_and_gets_a_receipt(cast: Cast) -> None:
    cleo = signed_in(cast, "cleo")
    answer = cleo.post(room(cast, "new/"), post())
    assert answer.status_code == 302
    report = AccidentReport.objects.get()
    # NIST SP 811, 4.3: t/°C = (t/°F − 32)/1.8, so 14 °F is −10 °C.
    assert report.seen_air_c == pytest.approx(-10)
    receipt = cleo.get(answer.headers["Location"])
    assert SECRET in receipt.content.decode()
    assert str(report.id) in receipt.content.decode()


def test_a_report_is_read_by_its_writer_keeper_and_coordinators_and_by_nobody_else(cast: Cast) -> None:
    report = an_accident(cast, SECRET, by=cast.cleo)
    seen: dict[str, list[int]] = {}
    for login in ("ada", "bo", "cleo", "dag", "eli", "rut"):
        client = signed_in(cast, login)
        pages = ("", f"{report.id}/", f"{report.id}/receipt/", f"{report.id}/correct/")
        answers = [client.get(room(cast, page)) for page in pages]
        seen[login] = [answer.status_code for answer in answers]
        if login in ("dag", "eli", "rut"):
            assert not any(SECRET in answer.content.decode() for answer in answers)
    assert seen == {
        "ada": [200, 200, 200, 200],
        "bo": [200, 200, 200, 200],
        "cleo": [404, 404, 200, 200],
        "dag": [404, 404, 404, 404],
        "eli": [404, 404, 404, 404],
        "rut": [404, 404, 404, 404],
    }


def test_a_guest_cannot_write(cast: Cast) -> None:
    assert signed_in(cast, "eli").post(room(cast, "new/"), post()).status_code == 404
    assert AccidentReport.objects.count() == 0


def test_a_correction_is_a_report_that_replaces_the_old_one(cast: Cast) -> None:
    report = an_accident(cast, "fell", by=cast.cleo)
    cleo = signed_in(cast, "cleo")
    assert cleo.post(room(cast, f"{report.id}/correct/"), post()).status_code == 302
    ada = signed_in(cast, "ada")
    assert SECRET in ada.get(room(cast)).content.decode()
    assert AccidentReport.objects.count() == 2
    old = ada.get(room(cast, f"{report.id}/")).content.decode()
    assert "fell" in old
    assert "Corrected by Cleo" in old


def test_a_second_correction_is_a_conflict_that_does_not_show_what_the_writer_may_not_read(
    cast: Cast,
) -> None:
    report = an_accident(cast, "fell", by=cast.cleo)
    path = room(cast, f"{report.id}/correct/")
    signed_in(cast, "bo").post(path, post(note="the coordinator's own words"))
    answer = signed_in(cast, "cleo").post(path, post(what_happened="my second thought"))
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "my second thought" in page
    assert "coordinator" not in page.split("<form", 1)[1]
    assert AccidentReport.objects.count() == 2


def test_a_replayed_report_adds_nothing_and_other_content_is_a_conflict(cast: Cast) -> None:
    cleo, sent = signed_in(cast, "cleo"), post()
    for _again in range(3):
        assert cleo.post(room(cast, "new/"), sent).status_code == 302
    assert AccidentReport.objects.count() == 1
    assert cleo.post(room(cast, "new/"), sent | {"injury": "a bruise"}).status_code == 409
    assert AccidentReport.objects.count() == 1


def test_somebody_elses_id_tells_nothing_of_their_report(cast: Cast) -> None:
    report = an_accident(cast, SECRET, by=cast.bo)
    answer = signed_in(cast, "cleo").post(
        room(cast, "new/"), post(id=str(report.id), what_happened="something else")
    )
    assert answer.status_code == 409
    assert SECRET not in answer.content.decode()


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"what_happened": " "}, "What happened is empty; it is needed."),
        ({"kind": "mishap"}, "Kind is “mishap”; allowed are an accident, a near miss."),
        ({"seen_air": "cold"}, "Air temperature is “cold”; allowed is"),
        ({"when": ""}, "When is empty; it is needed."),
        ({"where": "x" * 201}, "Where has 201 letters; allowed are 200."),
    ],
)
def test_nonsense_gets_a_sentence_and_nothing_is_lost(
    cast: Cast, changes: dict[str, object], sentence: str
) -> None:
    answer = signed_in(cast, "cleo").post(room(cast, "new/"), post(note="keep me", **changes))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert "keep me" in answer.content.decode()


def test_the_list_asks_the_same_number_of_queries_however_many_reports_there_are(cast: Cast) -> None:
    bo = signed_in(cast, "bo")
    an_accident(cast)
    few = queries_of(bo, room(cast))
    for _more in range(15):
        an_accident(cast)
    many = queries_of(bo, room(cast))
    assert few == many
