"""Imports from the upload to the log. Each call can be made twice: the second changes nothing."""

import datetime as dt
import hashlib
from typing import Any
from uuid import UUID

from django.core.files.base import File
from django.core.files.storage import default_storage
from django.db import IntegrityError, transaction
from django.db.models.functions import Now
from django.utils.translation import gettext as _

from rinklog.archive.csv_check import check
from rinklog.archive.csv_in import write
from rinklog.archive.csv_read import MOST_BYTES, Unreadable, read_table
from rinklog.archive.models import Import
from rinklog.archive.plan import Plan
from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.rink.models import Rink

State = Import.State
SHOWN_PROBLEMS = 2000


def receive_import(*, id: UUID, rink: Rink, file: "File[bytes]", by: Person, now: dt.datetime) -> Import:
    """Keep an uploaded file, to be checked. Errors: Refused when it is too large, Conflict when the id is taken."""
    size = file.size or 0
    if size > MOST_BYTES:
        raise Refused(
            "file",
            _("The file has %(size)d MB; allowed are %(most)d. Import it season by season.")
            % {"size": size // 2**20, "most": MOST_BYTES // 2**20},
        )
    raw = file.read()
    fingerprint = hashlib.sha256(raw).hexdigest()
    if existing := Import.objects.filter(id=id).first():
        if (existing.rink_id, existing.fingerprint) != (rink.id, fingerprint):
            raise Conflict(existing if existing.rink_id == rink.id else None)
        return existing
    file.seek(0)
    name = default_storage.save(f"imports/{id}.csv", file)
    with transaction.atomic():
        return Import.objects.create(
            id=id,
            rink=rink,
            by=by,
            made_at=now,
            moved_at=now,
            file_name=(file.name or "")[-120:],
            file=name,
            fingerprint=fingerprint,
        )


def check_import(*, id: UUID, now: dt.datetime) -> None:
    """Check the file and keep the report; nothing is written to the log."""
    one = Import.objects.select_related("rink").filter(id=id, state=State.CHECKING).first()
    if one is None:
        return
    try:
        plan = _plan_of(one, now)
    except Unreadable as error:
        settle(one, State.CHECKING, State.REFUSED, {"sentence": str(error)})
    else:
        settle(one, State.CHECKING, State.CHECKED, report_of(plan))


def say_who(*, one: Import, who: dict[str, str], now: dt.datetime) -> bool:
    """Take in who the logins of the file are; the file is to be checked again. False when it is too late."""
    kept = {login: known for login, known in who.items() if known}
    moved = Import.objects.filter(id=one.id, state=State.CHECKED).update(
        who=one.who | kept, state=State.CHECKING, done=0, moved_at=now
    )
    return moved == 1


def start_import(*, one: Import, now: dt.datetime) -> bool:
    """Let a checked file without faults be written. False when it was started before."""
    if one.report.get("count"):
        raise Refused("file", _("Some rows are wrong; nothing can be imported before they are right."))
    moved = Import.objects.filter(id=one.id, state=State.CHECKED).update(
        state=State.IMPORTING, done=0, moved_at=now
    )
    return moved == 1


def apply_import(*, id: UUID, now: dt.datetime) -> None:
    """Write the file to the log, all of it or nothing; what changed meanwhile sends it back to be looked at."""
    one = Import.objects.select_related("rink", "by").filter(id=id, state=State.IMPORTING).first()
    if one is None:
        return
    plan = _plan_of(one, now)
    if plan.problems:
        settle(one, State.IMPORTING, State.CHECKED, report_of(plan))
        return
    try:
        with transaction.atomic():
            added = write(plan, rink=one.rink, by=one.by, now=now)
            settle(one, State.IMPORTING, State.DONE, report_of(plan) | {"added": dict(added)})
    except IntegrityError:
        sentence = _("The log changed while it was imported; nothing was written. Check it again.")
        settle(one, State.IMPORTING, State.CHECKED, {"sentence": sentence, "count": 1, "problems": []})


def forget_file(*, one: Import) -> None:
    """Delete the uploaded file; what the import did stays to be read."""
    default_storage.delete(one.file.name or "")
    Import.objects.filter(id=one.id).update(file="")


def _plan_of(one: Import, now: dt.datetime) -> Plan:
    """What importing the file would do now. Errors: Unreadable."""
    try:
        with default_storage.open(one.file.name or "") as file:
            table = read_table(file.read())
    except (FileNotFoundError, ValueError):
        raise Unreadable(_("The uploaded file is gone; send it again.")) from None

    def progress(done: int, total: int) -> None:
        Import.objects.filter(id=one.id).update(done=done, total=total, moved_at=Now())

    return check(table, one.rink, now=now, who=one.who, progress=progress)


def report_of(plan: Plan) -> dict[str, Any]:
    """What the page shows of a plan."""
    return {
        "new": {record: len(rows) for record, rows in plan.new.items()},
        "here": dict(plan.here),
        "count": len(plan.problems),
        "problems": [
            [problem.row, problem.column, problem.value, problem.reason]
            for problem in plan.problems[:SHOWN_PROBLEMS]
        ],
        "notes": plan.notes,
        "people": plan.people,
        "strangers": plan.strangers,
    }


def settle(one: Import, before: str, after: str, report: dict[str, Any]) -> None:
    """Move on to the next state with a report."""
    Import.objects.filter(id=one.id, state=before).update(state=after, report=report, moved_at=Now())
