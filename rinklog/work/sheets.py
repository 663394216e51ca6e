"""A sheet of paper typed in: all its lines are recorded or none, and sending it twice records nothing twice."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID, uuid5

from django.db import transaction

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.rink.models import Rink
from rinklog.work.content import EntryContent
from rinklog.work.services import Recorded, record_entry


@dataclass(frozen=True)
class Line:
    """One line: its number on the sheet, the kind, what was done, and the rink-local day it began."""

    number: int
    kind: str
    content: EntryContent
    local_day: dt.date


class LineRefused(Exception):
    """A line cannot be recorded; nothing of the sheet was. `why` is what the recording said."""

    def __init__(self, number: int, why: Refused | Conflict) -> None:
        super().__init__(f"line {number}: {why}")
        self.number = number
        self.why = why


def record_sheet(
    *, id: UUID, rink: Rink, lines: Sequence[Line], by: Person, now: dt.datetime
) -> list[Recorded]:
    """Record every line of a sheet. Raises LineRefused for the first that cannot be, and then none is.

    A line's id follows from the sheet's and the line's number: the same sheet again finds its own entries.
    """
    recorded = []
    with transaction.atomic():
        for line in lines:
            try:
                saved = record_entry(
                    id=uuid5(id, f"line {line.number}"),
                    rink=rink,
                    kind=line.kind,
                    content=line.content,
                    by=by,
                    now=now,
                    local_day=line.local_day,
                )
            except (Refused, Conflict) as why:
                raise LineRefused(line.number, why) from why
            recorded.append(saved)
    return recorded
