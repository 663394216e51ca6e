"""What came of predicted floods, read from the log: taps of "set" and "frozen", and inspections. Nothing here writes."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from rinklog.advice.learning import Outcome
from rinklog.advice.models import Prediction
from rinklog.rink.models import Rink
from rinklog.work.models import Entry, EntryEvent, EntryZone, Kind

LOOKED_FOR = dt.timedelta(hours=36)  # an inspection later than this tells nothing of the coat
OWN_TIME = dt.timedelta(
    minutes=2
)  # a tap whose time differs from when it was tapped names the time of freezing
JUST_BEFORE = dt.timedelta(
    minutes=12
)  # how closely somebody who names a time knows it; common practice, no source
WET, SILENT = ("wet",), ("snow", "thin")  # conditions that say not frozen, and those that say nothing of it
MOST = 200


@dataclass(frozen=True)
class Judged:
    """A prediction and what was seen of its flood."""

    prediction: Prediction
    outcome: Outcome


def judged(rink: Rink, known_at: dt.datetime | None = None) -> list[Judged]:
    """The latest predicted floods that still stand, each with what was seen until `known_at`; four questions."""
    rows = Prediction.objects.filter(
        rink=rink, root__lineage__state=Entry.State.STANDING, middle_h__isnull=False
    )
    if known_at is not None:
        rows = rows.filter(began_at__lt=known_at, recorded_at__lte=known_at)
    made = list(rows.order_by("-began_at")[:MOST])
    if not made:
        return []
    events = _events([one.root_id for one in made], known_at)
    looks = _looks(rink, made, known_at)
    zones = _zones(made)
    return [Judged(one, _outcome(one, events[one.root_id], looks, zones[one.root_id])) for one in made]


def _events(roots: Iterable[UUID], known_at: dt.datetime | None) -> dict[UUID, list[EntryEvent]]:
    rows = EntryEvent.objects.filter(root_id__in=list(roots), undone_at=None, what__in=["set", "frozen"])
    if known_at is not None:
        rows = rows.filter(recorded_at__lte=known_at)
    found: dict[UUID, list[EntryEvent]] = defaultdict(list)
    for row in rows:
        found[row.root_id].append(row)
    return found


def _zones(made: list[Prediction]) -> dict[UUID, set[int]]:
    rows = EntryZone.objects.filter(
        entry__root_id__in=[one.root_id for one in made], entry__state=Entry.State.STANDING
    )
    found: dict[UUID, set[int]] = defaultdict(set)
    for root, zone in rows.values_list("entry__root_id", "zone_id"):
        found[root].add(zone)
    return found


def _looks(
    rink: Rink, made: list[Prediction], known_at: dt.datetime | None
) -> list[tuple[dt.datetime, int, str]]:
    """Inspections in the time of the floods: when, which zone, and its condition."""
    rows = EntryZone.objects.filter(
        entry__rink=rink,
        entry__kind=Kind.INSPECTION,
        entry__state=Entry.State.STANDING,
        entry__started_at__gte=min(one.began_at for one in made),
        entry__started_at__lte=max(one.began_at for one in made) + LOOKED_FOR,
    )
    if known_at is not None:
        rows = rows.filter(entry__recorded_at__lte=known_at)
    return list(rows.values_list("entry__started_at", "zone_id", "condition").order_by("entry__started_at"))


def _outcome(
    made: Prediction, events: list[EntryEvent], looks: list[tuple[dt.datetime, int, str]], zones: set[int]
) -> Outcome:
    """The last moment it was known not to be frozen, and the first at which it was."""
    wet, frozen = made.began_at, None
    for at, zone, condition in looks:
        if zone not in zones or not made.began_at < at <= made.began_at + LOOKED_FOR:
            continue
        if condition in WET:
            wet = max(wet, at)
        elif condition not in SILENT:
            frozen = min(frozen or at, at)
    for event in events:
        if event.what == EntryEvent.What.SET:
            wet = max(wet, event.at)  # set comes before frozen through
        else:
            frozen = min(frozen or event.at, event.at)
            if abs(event.recorded_at - event.at) > OWN_TIME:
                wet = max(wet, event.at - JUST_BEFORE)
    if frozen is not None and frozen < wet:
        wet = made.began_at  # what was seen contradicts itself: only the first sight of ice is kept
    return Outcome(
        low_h=made.low_h,
        middle_h=made.middle_h or 0.0,
        high_h=made.high_h,
        chance=made.chance,
        deadline_h=(made.deadline_at - made.began_at) / dt.timedelta(hours=1),
        factor=made.factor,
        pour_h=made.coat_mm * made.window.get("pour_h_per_mm", 0.0),
        not_frozen_h=(wet - made.began_at) / dt.timedelta(hours=1),
        frozen_h=None if frozen is None else (frozen - made.began_at) / dt.timedelta(hours=1),
    )
