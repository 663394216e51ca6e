"""Reading what is owed. Nothing here writes."""

import datetime as dt
from dataclasses import dataclass
from uuid import UUID

from django.db.models import Q

from rinklog.owed.counting import Counts, counts
from rinklog.owed.models import Deadline, Loan, LoanEvent
from rinklog.rink.models import Rink


@dataclass(frozen=True)
class LoanNow:
    """A loan, what happened to it, and how many of it are where."""

    loan: Loan
    events: list[LoanEvent]
    counts: Counts


def now_of(loan: Loan) -> LoanNow:
    """A loan with its counts; reads its events unless they are there already."""
    events = list(loan.events.all())
    return LoanNow(loan, events, counts(loan.count, [(one.what, one.count) for one in events]))


def loans(rink: Rink, *, since: dt.date | None = None, until: dt.date | None = None) -> list[LoanNow]:
    """A rink's loans in two queries; with days, only those that were owed at some time between them."""
    rows = Loan.objects.filter(rink=rink).select_related("by").prefetch_related("events__by")
    if until is not None:
        rows = rows.filter(lent_on__lte=until)
    found = [now_of(loan) for loan in rows]
    if since is None:
        return found
    return [one for one in found if one.counts.owed or any(event.on >= since for event in one.events)]


def loan(rink: Rink, id: UUID) -> Loan | None:
    """One loan of a rink."""
    return Loan.objects.filter(rink=rink, id=id).first()


def to_come(rink: Rink) -> list[Deadline]:
    """What is not done yet, the nearest first."""
    return list(Deadline.objects.filter(rink=rink, done_on=None, dropped=False).select_related("by"))


def ended(rink: Rink, *, since: dt.date, until: dt.date) -> list[Deadline]:
    """What was done between two days, the latest first."""
    rows = Deadline.objects.filter(rink=rink, done_on__gte=since, done_on__lte=until)
    return list(rows.select_related("done_by").order_by("-done_on", "what"))


def of_days(rink: Rink, since: dt.date, until: dt.date) -> list[Deadline]:
    """Every date that was due or done between two days, the earliest first."""
    due = Q(due_on__gte=since, due_on__lte=until) | Q(done_on__gte=since, done_on__lte=until)
    return list(Deadline.objects.filter(due, rink=rink, dropped=False).select_related("done_by"))


def deadline(rink: Rink, id: UUID) -> Deadline | None:
    """One date of a rink."""
    return Deadline.objects.filter(rink=rink, id=id).first()


def near(until: dt.date) -> list[Deadline]:
    """What is not done and due up to a day, of every rink."""
    rows = Deadline.objects.filter(done_on=None, dropped=False, due_on__lte=until)
    return list(rows.select_related("rink"))
