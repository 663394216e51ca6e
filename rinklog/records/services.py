"""Writing records: what each kind of them refuses. The same post twice is one record."""

import datetime as dt
from dataclasses import asdict, dataclass
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Refused
from rinklog.records.models import (
    AccidentReport,
    Check,
    CheckLine,
    ChecklistItem,
    Headcount,
    Opening,
    PublicPage,
)
from rinklog.records.writing import Saved, Writing, save_record
from rinklog.rink.models import Rink

MOST_SKATERS = 5000


def set_opening(
    *,
    writing: Writing,
    state: str,
    reason: str = "",
    until: dt.datetime | None = None,
    grade: str = "",
) -> Saved:
    """Record that a person set the rink open, partly open or closed. Errors: Refused, Conflict."""
    reason = reason.strip()
    if state not in Opening.State.values:
        allowed = ", ".join(Opening.State.values)
        raise Refused(
            "state",
            _("State is “%(value)s”; allowed are %(allowed)s.") % {"value": state, "allowed": allowed},
        )
    if state != Opening.State.OPEN and not reason:
        raise Refused("reason", _("Reason is empty; say in a few words why it is not open."))
    if until is not None and until <= writing.at:
        raise Refused(
            "until", _("Until is not after the change itself; allowed is a later time, or nothing.")
        )
    return save_record(Opening, writing, {"state": state, "reason": reason, "until": until, "grade": grade})


@dataclass(frozen=True)
class Line:
    """One line of a checklist as it was answered."""

    text: str
    answer: str
    remark: str = ""


def record_check(
    *, writing: Writing, list: str, lines: tuple[Line, ...], grade: str = "", told_whom: str = ""
) -> Saved:
    """Record a daily walk or a formal inspection. Errors: Refused, Conflict."""
    if list not in ChecklistItem.List.values:
        raise Refused("list", _("“%(value)s” is not one of the checklists.") % {"value": list})
    if all(line.answer == CheckLine.Answer.NOT_SEEN for line in lines):
        raise Refused("lines", _("Nothing is marked as looked at; mark at least one line."))
    content = {"list": list, "grade": grade, "told_whom": told_whom.strip()}
    return save_record(Check, writing, content, tuple(asdict(line) for line in lines))


def count_skaters(*, writing: Writing, skaters: int, whole: bool = False) -> Saved:
    """Count skaters in the rink-local hour of `writing.at`: more of them, or (whole) all of the hour so far."""
    if not 0 <= skaters <= MOST_SKATERS:
        raise Refused(
            "skaters",
            _("Skaters is %(value)s; allowed is 0 to %(most)s.") % {"value": skaters, "most": MOST_SKATERS},
        )
    writing = writing.moved_to(hour_of(writing.at, ZoneInfo(writing.rink.time_zone)))
    return save_record(Headcount, writing, {"skaters": skaters, "whole": whole})


def hour_of(at: dt.datetime, zone: ZoneInfo) -> dt.datetime:
    """The moment [UTC] at which the hour on the rink's clock began."""
    return at.astimezone(zone).replace(minute=0, second=0, microsecond=0).astimezone(dt.UTC)


@dataclass(frozen=True)
class Accident:
    """What a person says about an accident or a near miss."""

    what_happened: str
    near_miss: bool = False
    where: str = ""
    injury: str = ""
    help_given: str = ""
    witnesses: str = ""
    ice_condition: str = ""
    seen_air_c: float | None = None


def report_accident(*, writing: Writing, accident: Accident) -> Saved:
    """Record an accident or a near miss. Errors: Refused, Conflict."""
    if not accident.what_happened.strip():
        raise Refused("what_happened", _("What happened is empty; say it in a few words."))
    return save_record(AccidentReport, writing, asdict(accident))


def publish(*, rink: Rink, shown: str, by: Person, now: dt.datetime) -> None:
    """Choose how the rink's public page is shown; saying the same again changes nothing. Errors: Refused."""
    if shown not in PublicPage.Shown.values:
        allowed = ", ".join(PublicPage.Shown.values)
        raise Refused(
            "shown",
            _("Shown is “%(value)s”; allowed are %(allowed)s.") % {"value": shown, "allowed": allowed},
        )
    page, made = PublicPage.objects.get_or_create(
        rink=rink, defaults={"shown": shown, "by": by, "changed_at": now}
    )
    if not made and page.shown != shown:
        PublicPage.objects.filter(id=page.id).update(shown=shown, by=by, changed_at=now)
