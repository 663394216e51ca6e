"""Loans and dates of the named cast, for tests."""

import datetime as dt
from typing import Any
from uuid import uuid4

from rinklog.owed.models import Deadline, Loan, LoanEvent
from rinklog.owed.services import add_loan_event, write_deadline, write_loan
from tests.support.cast import NOW, Cast

TODAY = NOW.date()


def a_loan(cast: Cast, **more: Any) -> Loan:
    """Three nozzles of the town's, since a month ago."""
    told = {
        "what": "nozzle",
        "count": 3,
        "lender": "Rimvinkel parks",
        "lent_on": TODAY - dt.timedelta(days=30),
    }
    return write_loan(id=uuid4(), rink=cast.rink, by=cast.bo, now=NOW, **(told | more))  # type: ignore[arg-type]


def it_happened(cast: Cast, loan: Loan, what: str, count: int = 1, **more: Any) -> LoanEvent:
    """Cleo says what happened to some of a loan."""
    told = {"id": uuid4(), "on": TODAY, "today": TODAY, "by": cast.cleo, "now": NOW}
    return add_loan_event(loan=loan, what=what, count=count, **(told | more))  # type: ignore[arg-type]


def a_deadline(cast: Cast, days: int = 40, **more: Any) -> Deadline:
    """A grant that has to be asked for in so many days."""
    told = {"kind": "grant", "what": "Application to the town", "due_on": TODAY + dt.timedelta(days=days)}
    return write_deadline(
        id=uuid4(), rink=cast.rink, by=cast.ada, now=NOW, today=TODAY, **(told | more)  # type: ignore[arg-type]
    )  # fmt: skip
