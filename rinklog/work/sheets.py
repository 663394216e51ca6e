"""A sheet of paper typed in: all its lines are recorded or none, and sending it twice records nothing twice."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID, uuid5

from django.db import transaction

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.rink.models import Rink
from rinklog.work.cones import cone_id, put_cone
from rinklog.work.content import EntryContent
from rinklog.work.hazards import HazardContent, RecordedHazard, record_hazard
from rinklog.work.services import Recorded, record_entry


@dataclass(frozen=True)
class Line:
    """One line of work: its key on the sheet, the kind, what was done, and the rink-local day it began."""

    key: str
    kind: str
    content: EntryContent
    local_day: dt.date


@dataclass(frozen=True)
class HazardLine:
    """One line about a hazard, with the number of the cone at it, if it has one."""

    key: str
    content: HazardContent
    local_day: dt.date
    cone_number: int | None = None


class LineRefused(Exception):
    """A line cannot be recorded; nothing of the sheet was. `why` is what the recording said."""

    def __init__(self, key: str, why: Refused | Conflict) -> None:
        super().__init__(f"{key}: {why}")
        self.key = key
        self.why = why


def record_sheet(
    *, id: UUID, rink: Rink, lines: Sequence[Line | HazardLine], by: Person, now: dt.datetime
) -> list[Recorded | RecordedHazard]:
    """Record every line of a sheet. Raises LineRefused for the first that cannot be, and then none is.

    A line's id follows from the sheet's and the line's key: the same sheet again finds its own entries.
    """
    recorded: list[Recorded | RecordedHazard] = []
    with transaction.atomic():
        for line in lines:
            try:
                recorded.append(_record(line, uuid5(id, line.key), rink, by, now))
            except (Refused, Conflict) as why:
                raise LineRefused(line.key, why) from why
    return recorded


def _record(
    line: Line | HazardLine, id: UUID, rink: Rink, by: Person, now: dt.datetime
) -> Recorded | RecordedHazard:
    if isinstance(line, HazardLine):
        return _record_hazard(line, id, rink, by, now)
    return record_entry(
        id=id, rink=rink, kind=line.kind, content=line.content, by=by, now=now, local_day=line.local_day
    )


def _record_hazard(line: HazardLine, id: UUID, rink: Rink, by: Person, now: dt.datetime) -> RecordedHazard:
    saved = record_hazard(id=id, rink=rink, content=line.content, by=by, now=now, local_day=line.local_day)
    if line.cone_number is not None:
        found_at = line.content.found_at
        put_cone(id=cone_id(id), hazard=saved.hazard, number=line.cone_number, at=found_at, by=by, now=now)
    return saved
