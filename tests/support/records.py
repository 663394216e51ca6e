"""Records of the named cast, for tests."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from rinklog.crew.models import Person
from rinklog.records.models import AccidentReport, Check, Headcount, Opening
from rinklog.records.services import (
    Accident,
    Line,
    count_skaters,
    record_check,
    report_accident,
    set_opening,
)
from rinklog.records.writing import Writing
from tests.support.cast import NOW, Cast


def writing(
    cast: Cast, *, by: Person | None = None, at: dt.datetime = NOW, id: UUID | None = None, **more: Any
) -> Writing:
    """Bo (or whom you name) writes about `at`, at that moment."""
    given: dict[str, Any] = {"now": at, "rink": cast.rink} | more
    return Writing(id=id or uuid4(), at=at, by=by or cast.bo, **given)


def an_opening(
    cast: Cast, state: str = "closed", at: dt.datetime = NOW, *, id: UUID | None = None, **more: Any
) -> Opening:
    """Bo sets the rink, because of snow if no other reason is given."""
    replaces = more.pop("replaces", None)
    fields = {"reason": "snow"} | more
    return set_opening(writing=writing(cast, at=at, id=id, replaces=replaces), state=state, **fields).record


def a_check(cast: Cast, list: str = "walk", *, by: Person | None = None, **more: Any) -> Check:
    """Bo (or whom you name) goes through a checklist of two lines and finds a nail."""
    lines = (Line("Ice", "good"), Line("Boards", "repair", "a nail at the gate"))
    fields = {"told_whom": "Ada", "grade": "good", "lines": lines}
    given = {name: more.pop(name) for name in tuple(fields) if name in more}
    return record_check(writing=writing(cast, by=by, **more), list=list, **(fields | given)).record


def an_accident(
    cast: Cast, what_happened: str = "fell over a bump", *, by: Person | None = None, **more: Any
) -> AccidentReport:
    """Cleo (or whom you name) writes an accident report."""
    told = Accident(what_happened=what_happened)
    return report_accident(writing=writing(cast, by=by or cast.cleo, **more), accident=told).record


def skaters(cast: Cast, number: int, at: dt.datetime = NOW, whole: bool = False, **more: Any) -> Headcount:
    """Bo counts skaters."""
    return count_skaters(writing=writing(cast, at=at, **more), skaters=number, whole=whole).record
