"""Writing the estimate: replay from the last checkpoint that still holds, store what pages read.

Every checkpoint is a transaction of its own: a replay that is cut off goes on where it stopped. The same inputs give the
same rows, bit for bit, whether an entry came in time or late.
"""

import datetime as dt
from collections.abc import Callable, Iterable
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.ice.fingerprints import DAILY_HOUR, chain, fixed_hours, is_kept
from rinklog.ice.marching import Journey, errors_of, marched, weighed
from rinklog.ice.models import Checkpoint, HoleQuestion, Outlook
from rinklog.ice.plain import estimate_to_json, hours_to_json
from rinklog.ice.plausible import Doubt
from rinklog.ice.queries import mark_of
from rinklog.ice.reading import Nothing, Read, read
from rinklog.ice.spread import Spread
from rinklog.ice.state import State, first_state, packed, unpacked
from rinklog.ice.summing import Estimate, OutlookHour, estimate_of, outlook_of
from rinklog.rink.models import Rink
from rinklog.weather.known import floor

TOLD_FROM = dt.timedelta(days=2)
"""A replay longer than this says on the way how far it has come."""


def project(
    *,
    rink: Rink,
    now: dt.datetime,
    known_at: dt.datetime | None = None,
    spread: Spread | None = None,
    patient: Callable[[], bool] = lambda: True,
) -> Estimate | None:
    """Bring the stored estimate of a rink up to `now`, and its outlook as far as the weather is known.

    known_at: only the weather that was known then. spread: sizes of errors, for tests. patient: asked after every
    marched day; when it says no, the replay stops at that checkpoint and the next call goes on there. Returns: the
    estimate; None where something is missing (the stored row says what) or the replay has not come to its end.
    """
    mark = mark_of(rink, now)
    found = read(rink, now, known_at, spread)
    if isinstance(found, Nothing):
        _store_nothing(rink, found, now, mark)
        return None
    inputs, last = found.inputs, min(floor(now), found.inputs.weather.end)
    fingerprint = chain(inputs, last)
    errors = errors_of(inputs)
    state = _resumed(found, last, fingerprint)
    resumed_at = state.at
    is_long = last - state.at > TOLD_FROM
    doubts: list[Doubt] = []
    for stop in _stops(state.at, last):
        journey = Journey()
        state = marched(state, inputs, stop, errors, journey)
        doubts += journey.doubts
        if stop < last and not is_kept(stop, now) and stop.hour != DAILY_HOUR:
            continue
        _keep(found, state, fingerprint(stop))
        if stop == last:
            break
        ends_here = not patient()
        if is_long or ends_here:
            _store_progress(rink, found, stop, now)
        if ends_here:
            return None
    journey = Journey()
    until = min(now.replace(second=0, microsecond=0), inputs.weather.end)
    state = (
        marched(state, inputs, until, errors, journey)
        if until > state.at
        else weighed(state, inputs, journey)
    )
    estimate = estimate_of(state, inputs, now)
    hours = outlook_of(state, inputs, list(estimate.zones.values()), errors)
    with transaction.atomic():
        _ask(rink, [*doubts, *journey.doubts], resumed_at, now)
        _prune(found, state.at)
        _store(found, estimate, hours, state, mark)
    return estimate


def _store(found: Read, estimate: Estimate, hours: list[OutlookHour], state: State, mark: str) -> None:
    """Write what pages read."""
    Outlook.objects.update_or_create(
        rink_id=found.season.rink_id,
        defaults={
            **{"season": found.season, "made_at": estimate.made_at, "missing": "", "mark": mark},
            **{"reached_at": None, "estimate": estimate_to_json(estimate), "hours": hours_to_json(hours)},
            "members": packed(state),
        },
    )


def _stops(first: dt.datetime, last: dt.datetime) -> list[dt.datetime]:
    """The fixed hours on the way, and the end."""
    stops = fixed_hours(first, last)
    return stops if not last > first or (stops and stops[-1] == last) else [*stops, last]


def _resumed(found: Read, last: dt.datetime, fingerprint: Callable[[dt.datetime], str]) -> State:
    """The state of the last checkpoint that still holds, else the season's first."""
    rows = Checkpoint.objects.filter(season=found.season, at__gte=found.inputs.start, at__lte=last)
    for number, at, told in rows.order_by("-at").values_list("id", "at", "fingerprint"):
        if told == fingerprint(at):
            return unpacked(bytes(Checkpoint.objects.values_list("state", flat=True).get(id=number)), at)
    return first_state(found.inputs)


def _keep(found: Read, state: State, fingerprint: str) -> None:
    """Write one checkpoint."""
    Checkpoint.objects.update_or_create(
        season=found.season,
        at=state.at,
        defaults={"rink_id": found.season.rink_id, "fingerprint": fingerprint, "state": packed(state)},
    )


def _prune(found: Read, now: dt.datetime) -> None:
    """Forget checkpoints that are old or off the fixed hour, but for the newest until now."""
    rows = Checkpoint.objects.filter(season=found.season)
    newest = rows.filter(at__lte=now).order_by("-at").values_list("id", flat=True).first()
    old = [number for number, at in rows.values_list("id", "at") if number != newest and not is_kept(at, now)]
    rows.filter(id__in=old).delete()


def _ask(rink: Rink, doubts: Iterable[Doubt], since: dt.datetime, now: dt.datetime) -> None:
    """Write down which holes are asked about; a question that nothing raises any more is dropped, an answer is kept."""
    raised = {one.hole.entry_id: one for one in doubts if one.hole.entry_id is not None}
    waiting = HoleQuestion.objects.filter(
        rink=rink, answer="", entry__started_at__gte=since, entry__started_at__lte=now
    )
    waiting.exclude(entry_id__in=list(raised)).delete()
    for entry_id, one in raised.items():
        told = {"why": one.why, "ice_m": one.hole.ice_m, "low_m": one.low_m, "high_m": one.high_m}
        HoleQuestion.objects.update_or_create(
            entry_id=entry_id, defaults=told, create_defaults=told | {"rink": rink, "asked_at": now}
        )


def _store_nothing(rink: Rink, found: Nothing, now: dt.datetime, mark: str) -> None:
    """Say what is missing in place of an estimate."""
    nothing: dict[str, Any] = {"estimate": None, "hours": [], "members": None, "reached_at": None}
    said = {"season": found.season, "made_at": now, "missing": found.missing, "mark": mark}
    Outlook.objects.update_or_create(rink=rink, defaults=said | nothing)


def _store_progress(rink: Rink, found: Read, reached_at: dt.datetime, now: dt.datetime) -> None:
    """Say how far a long replay has come; what was estimated before stays."""
    first = {"season": found.season, "made_at": now}
    Outlook.objects.update_or_create(
        rink=rink, defaults={"reached_at": reached_at}, create_defaults=first | {"reached_at": reached_at}
    )


def answer_question(*, question: HoleQuestion, answer: str, by: Person, now: dt.datetime) -> bool:
    """Write down what a person says of a hole that was asked about: measured right, or a mistake.

    The first answer stands; the same again changes nothing. Returns: whether this call wrote it. Errors: Refused for
    another word than these two, Conflict when somebody answered otherwise.
    """
    if answer not in (HoleQuestion.Answer.RIGHT, HoleQuestion.Answer.MISTAKE):
        raise Refused(
            "answer", _("The answer is empty; say whether the hole was measured right or is a mistake.")
        )
    open_ones = HoleQuestion.objects.filter(entry_id=question.entry_id, answer="")
    if open_ones.update(answer=answer, answered_by=by, answered_at=now):
        return True
    there = HoleQuestion.objects.get(entry_id=question.entry_id)
    if there.answer != answer:
        raise Conflict(there)
    return False
