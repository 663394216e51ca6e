"""Writing what is owed. The same id with the same content again is the same row."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid5

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused, fingerprint_of
from rinklog.owed.models import Deadline, Loan, LoanEvent
from rinklog.owed.queries import now_of
from rinklog.rink.models import Rink

MOST = 10_000
FARTHEST = dt.timedelta(days=5 * 366)


def write_loan(
    *,
    id: UUID,
    rink: Rink,
    what: str,
    count: int,
    lender: str,
    lent_on: dt.date,
    by: Person,
    now: dt.datetime,
    back_on: dt.date | None = None,
    note: str = "",
) -> Loan:
    """Write down that something was lent to the rink. Errors: Refused; Conflict when the id holds something else."""
    content = {
        "what": what.strip()[:120], "count": count, "lender": lender.strip()[:120], "lent_on": lent_on,
        "back_on": back_on, "note": note.strip()[:400],
    }  # fmt: skip
    if there := _same(Loan, id, content, {"rink_id": rink.id}):
        return there
    _wanted("what", content["what"], _("Say what was lent: this is empty."))
    _wanted("lender", content["lender"], _("Say who lent it: this is empty."))
    _counted(count, MOST)
    if back_on is not None and back_on < lent_on:
        raise Refused(
            "back_on", _("It is to go back before it came; allowed is the day it was lent, or later.")
        )
    return _create(Loan, id, content, {"rink_id": rink.id}, by, now)


def add_loan_event(
    *, id: UUID, loan: Loan, what: str, count: int, on: dt.date, by: Person, now: dt.datetime, today: dt.date,
    note: str = "",
) -> LoanEvent:  # fmt: skip
    """Say that some of a loan broke, was mended, lost, found or given back. Errors: Refused, Conflict."""
    content = {"what": what, "count": count, "on": on, "note": note.strip()[:400]}
    with transaction.atomic():
        loan = Loan.objects.select_for_update().get(id=loan.id)
        if there := _same(LoanEvent, id, content, {"loan_id": loan.id}):
            return there
        if what not in LoanEvent.What.values:
            allowed = ", ".join(LoanEvent.What.values)
            said = {"value": what, "allowed": allowed}
            raise Refused("what", _("What happened is “%(value)s”; allowed are %(allowed)s.") % said)
        if not loan.lent_on <= on <= today:
            raise Refused(
                "on", _("The day lies before the loan or is still to come; allowed is from then to today.")
            )
        _counted(count, now_of(loan).counts.room_for(what))
        return _create(LoanEvent, id, content, {"loan_id": loan.id}, by, now)


def write_deadline(
    *, id: UUID, rink: Rink, kind: str, what: str, due_on: dt.date, by: Person, now: dt.datetime, today: dt.date,
    yearly: bool = False,
) -> Deadline:  # fmt: skip
    """Write down a day by which a paper must be in. Errors: Refused, Conflict."""
    content = {"kind": kind, "what": what.strip()[:160], "due_on": due_on, "yearly": yearly}
    if there := _same(Deadline, id, content, {"rink_id": rink.id}):
        return there
    if kind not in Deadline.Kind.values:
        said = {"value": kind, "allowed": ", ".join(Deadline.Kind.values)}
        raise Refused("kind", _("Kind is “%(value)s”; allowed are %(allowed)s.") % said)
    _wanted("what", content["what"], _("Say what must be in: this is empty."))
    if not today <= due_on <= today + FARTHEST:
        raise Refused("due_on", _("The day is over or more than five years away; allowed is from today on."))
    return _create(Deadline, id, content, {"rink_id": rink.id}, by, now)


def end_deadline(
    *, deadline: Deadline, done: bool, by: Person, now: dt.datetime, today: dt.date
) -> Deadline | None:
    """Say that a date is done, or no longer wanted. A yearly one that was done stands again a year later; returned."""
    ends = {"done_on": today, "done_by": by} if done else {"dropped": True}
    with transaction.atomic():
        Deadline.objects.filter(id=deadline.id, done_on=None, dropped=False).update(**ends)
        deadline.refresh_from_db()
        if not (deadline.yearly and deadline.done_on):
            return None
        again = {
            "kind": deadline.kind, "what": deadline.what, "due_on": year_later(deadline.due_on), "yearly": True,
        }  # fmt: skip
        id = uuid5(deadline.id, "a year later")
        return _same(Deadline, id, again, {"rink_id": deadline.rink_id}) or _create(
            Deadline, id, again, {"rink_id": deadline.rink_id}, by, now
        )


def year_later(day: dt.date) -> dt.date:
    """The same day of the next year; 28 February after a leap day, so that nothing comes late."""
    try:
        return day.replace(year=day.year + 1)
    except ValueError:
        return day.replace(year=day.year + 1, day=28)


def _wanted(field: str, value: Any, sentence: str) -> None:
    if not value:
        raise Refused(field, sentence)


def _counted(count: int, most: int) -> None:
    if most < 1:
        raise Refused("count", _("There is nothing left of it that this could happen to."))
    if not 1 <= count <= most:
        said = {"value": count, "most": most}
        raise Refused("count", _("How many is %(value)d; allowed is 1 to %(most)d.") % said)


def _same(model: Any, id: UUID, content: dict[str, Any], of: dict[str, UUID]) -> Any:
    """The row that has this id already, if it is the same; Conflict if it is not."""
    there = model._default_manager.filter(id=id).first()
    if there is None:
        return None
    ours = all(getattr(there, name) == value for name, value in of.items())
    if not ours or there.fingerprint != fingerprint_of(content):
        raise Conflict(there if ours else None)
    return there


def _create(
    model: Any, id: UUID, content: dict[str, Any], of: dict[str, UUID], by: Person, now: dt.datetime
) -> Any:
    try:
        with transaction.atomic():
            return model._default_manager.create(
                id=id, by=by, recorded_at=now, fingerprint=fingerprint_of(content), **content, **of
            )
    except IntegrityError:
        if there := _same(model, id, content, of):
            return there
        raise
