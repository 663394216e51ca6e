"""Things on loan: how many are where, and what cannot be. Counted by hand in each test."""

import datetime as dt
from uuid import uuid4

import pytest
from django.test import Client

from rinklog.facts import Conflict, Refused
from rinklog.owed.models import Loan, LoanEvent
from rinklog.owed.queries import loans, now_of
from tests.support.cast import Cast
from tests.support.loans import TODAY, a_loan, it_happened

pytestmark = pytest.mark.django_db
DAY = dt.timedelta(days=1)


def test_faults_and_losses_move_the_counts_and_never_the_loan(cast: Cast) -> None:
    loan = a_loan(cast, count=5)
    for what, count in (("fault", 2), ("mended", 1), ("lost", 3), ("found", 1), ("returned", 3)):
        it_happened(cast, loan, what, count)
    found = now_of(loan).counts
    # 5 here; 2 broken, 1 mended: 4 and 1; 3 lost of the sound: 1, 1, 3; one found: 2, 1, 2; three given back: 0, 0, 2, 3.
    assert (found.sound, found.broken, found.lost, found.returned) == (0, 0, 2, 3)
    assert Loan.objects.get(id=loan.id).count == 5


@pytest.mark.parametrize(
    ("what", "count", "said"),
    [
        ("fault", 4, "How many is 4; allowed is 1 to 3."),
        ("mended", 1, "There is nothing left of it that this could happen to."),
        ("lost", 0, "How many is 0; allowed is 1 to 3."),
        ("eaten", 1, "What happened is “eaten”; allowed are fault, mended, lost, found, returned."),
    ],
)
def test_what_cannot_happen_is_refused_in_a_sentence(cast: Cast, what: str, count: int, said: str) -> None:
    with pytest.raises(Refused) as refused:
        it_happened(cast, a_loan(cast), what, count)
    assert str(refused.value) == said
    assert not LoanEvent.objects.exists()


def test_days_that_cannot_be_are_refused(cast: Cast) -> None:
    loan = a_loan(cast)
    for on in (loan.lent_on - DAY, TODAY + DAY):
        with pytest.raises(Refused, match="before the loan or is still to come"):
            it_happened(cast, loan, "lost", on=on)
    with pytest.raises(Refused, match="go back before it came"):
        a_loan(cast, back_on=loan.lent_on - DAY)


def test_the_same_id_is_the_same_thing_and_another_content_is_a_conflict(cast: Cast) -> None:
    loan, id = a_loan(cast), uuid4()
    first = it_happened(cast, loan, "lost", id=id)
    assert it_happened(cast, loan, "lost", id=id) == first
    assert now_of(loan).counts.lost == 1
    with pytest.raises(Conflict):
        it_happened(cast, loan, "fault", id=id)


def test_the_crew_says_what_broke_and_coordinators_what_was_lent(cast: Cast, client: Client) -> None:
    path = f"/r/{cast.rink.slug}/records/loans/"
    form = {"id": str(uuid4()), "what": "hose", "count": "2", "lender": "the town", "lent_on": "2026-01-02"}
    client.force_login(cast.cleo)
    assert client.post(path + "add/", form).status_code == 404
    client.force_login(cast.bo)
    assert client.post(path + "add/", form).status_code == 302
    (one,) = loans(cast.rink)
    client.force_login(cast.cleo)
    happened = {
        "id": str(uuid4()),
        "what": "fault",
        "count": "9",
        "on": "2026-01-03",
        "note": "split at the nozzle",
    }
    answer = client.post(f"{path}{one.loan.id}/happened/", happened)
    assert answer.status_code == 422
    assert "How many is 9; allowed is 1 to 2." in answer.content.decode()
    assert "split at the nozzle" in answer.content.decode(), "what was typed is lost"
    assert client.post(f"{path}{one.loan.id}/happened/", happened | {"count": "1"}).status_code == 302
    assert loans(cast.rink)[0].counts.broken == 1
