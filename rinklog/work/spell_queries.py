"""How long each repair held, as people saw it. Nothing here writes.

A repair begins a spell when its work ends (a cover: when it is lifted). "Holding" moves the last moment it was seen
good; "back again" ends it as failed, somewhere between that moment and the one it was seen; another repair or closing
the hazard ends it without failure. What was withdrawn, undone or amended away does not count.
"""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass
from itertools import groupby, starmap
from typing import Any, NamedTuple
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import CharField, Count, QuerySet, Sum
from django.db.models.functions import Cast

from rinklog.clock import day_bounds
from rinklog.rink.models import Rink, Season
from rinklog.survival.kaplan_meier import Spell as Held
from rinklog.work.models import EntryEvent, EntryPerson, EntryZone, Hazard, HazardEvent, Repair

State = Hazard.State
ENDS_UNFAILED = (State.UNDER_REPAIR, State.CLOSED)
TOLD = (State.UNDER_REPAIR, State.HOLDING, State.BACK_AGAIN, State.CLOSED)


@dataclass(frozen=True)
class Spell:
    """One repair of one hazard. Water [m³] and labour [min] are its share of an entry that repaired several.

    A failure happened after `seen_good_last_at` and not after `failed_at`; without one the repair is known not to
    have been called failed up to `censored_at`.
    """

    defect: str
    method: str
    repaired_at: dt.datetime
    seen_good_last_at: dt.datetime
    failed_at: dt.datetime | None
    censored_at: dt.datetime | None
    zone_ids: tuple[int, ...]
    water_m3: float
    minutes: float
    hazard_id: UUID
    entry_root_id: UUID

    @property
    def failed(self) -> bool:
        """Whether it came back."""
        return self.failed_at is not None

    @property
    def held_s(self) -> float:
        """How long it held [s]: to the middle of the interval it failed in, else to the end of what is known."""
        if self.failed_at is None:
            return max(0.0, ((self.censored_at or self.seen_good_last_at) - self.repaired_at).total_seconds())
        middle = self.seen_good_last_at + (self.failed_at - self.seen_good_last_at) / 2
        return max(0.0, (middle - self.repaired_at).total_seconds())

    @property
    def days(self) -> Held:
        """The same for survival estimates, in days."""
        return Held(self.held_s / 86400, self.failed)


def spells(rink: Rink, season: Season | None = None, *, until: dt.datetime) -> list[Spell]:
    """Every repair of a rink's hazards (of one season's, if given), in the order they were made; five queries.

    `until` is how far is known (now): a repair nobody spoke of again is censored there, or at its season's end.
    """
    told = HazardEvent.objects.filter(hazard__rink=rink, state__in=TOLD, undone_at=None, at__lte=until)
    told = told.exclude(hazard__state=State.WITHDRAWN)
    if season is not None:
        told = told.filter(hazard__season=season)
    work = _Work(told.filter(state=State.UNDER_REPAIR).exclude(entry=None))
    texts = {
        "hazard_text": _text("hazard_id"),
        "entry_text": _text("entry_id"),
        "root_text": _text("entry__root_id"),
    }
    rows = told.annotate(**texts).order_by("hazard_id", "at", "turn").values_list(*COLUMNS)
    zone = ZoneInfo(rink.time_zone)
    found: list[Spell] = []
    for _id, events in groupby(starmap(_Told, rows), key=lambda row: row.hazard_id):
        found += _of_hazard(list(events), work, until, zone)
    return sorted(found, key=lambda spell: (spell.repaired_at, str(spell.hazard_id)))


COLUMNS = (
    "hazard_text", "hazard__kind", "hazard__season__ends_on", "state", "at", "entry_text", "root_text",
    "entry__is_open", "entry__kind", "entry__details", "entry__water_m3",
)  # fmt: skip


def _text(column: str) -> Cast:
    """An id as the text that the database keeps: of thousands only those of repairs become ids again."""
    return Cast(column, CharField())


class _Told(NamedTuple):
    """One event of a hazard, with the repair behind it; ids as text."""

    hazard_id: str
    defect: str
    season_ends_on: dt.date | None
    state: str
    at: dt.datetime
    entry_id: str | None
    root_id: str
    is_open: bool
    kind: str
    details: dict[str, Any]
    water_m3: float | None


class _Work:
    """What is on record of the repairs behind some events: never a list of ids, of which a query takes only so many."""

    def __init__(self, repairs: "QuerySet[HazardEvent]") -> None:
        entries, roots = repairs.order_by().values("entry_id"), repairs.order_by().values("entry__root_id")
        lifts = EntryEvent.objects.filter(root_id__in=roots, what=EntryEvent.What.LIFTED, undone_at=None)
        self.lifted = dict(lifts.order_by().values_list(_text("root_id"), "at"))
        shared = Repair.objects.filter(root_id__in=roots).order_by().values_list(_text("root_id"))
        self.shares = dict(shared.annotate(hazards=Count("id")))
        people = EntryPerson.objects.filter(entry_id__in=entries).order_by().values_list(_text("entry_id"))
        self.minutes = dict(people.annotate(sum=Sum("minutes")))
        self.zone_ids: dict[str, list[int]] = defaultdict(list)
        zones = EntryZone.objects.filter(entry_id__in=entries).order_by("zone_id")
        for entry_id, zone_id in zones.values_list(_text("entry_id"), "zone_id"):
            self.zone_ids[entry_id].append(zone_id)


def _of_hazard(events: list[_Told], work: _Work, until: dt.datetime, zone: ZoneInfo) -> list[Spell]:
    """The spells of one hazard, from its events in the order they happened."""
    found = []
    for place, event in enumerate(events):
        if event.state != State.UNDER_REPAIR or event.entry_id is None or event.is_open:
            continue
        begun = max(event.at, work.lifted.get(event.root_id, event.at))
        later = [one for one in events[place + 1 :] if one.at >= begun]
        found.append(_spell(event, begun, later, work, (until, zone)))
    return found


def _spell(
    event: _Told, begun: dt.datetime, later: list[_Told], work: _Work, known: tuple[dt.datetime, ZoneInfo]
) -> Spell:
    good = begun
    failed: dt.datetime | None = None
    censored: dt.datetime | None = None
    for one in later:
        if one.state == State.BACK_AGAIN:
            failed = one.at
        elif one.state in ENDS_UNFAILED:
            censored = one.at
        if one.state in (State.HOLDING, State.CLOSED):
            good = one.at
        if failed or censored:
            break
    if failed is None and censored is None:
        censored = max(good, min(known[0], _season_end(event.season_ends_on, known[1]) or known[0]))
    share = work.shares.get(event.root_id, 1)
    return Spell(
        defect=event.defect,
        method=event.details.get("method") or event.kind,
        repaired_at=begun,
        seen_good_last_at=good,
        failed_at=failed,
        censored_at=censored,
        zone_ids=tuple(work.zone_ids[event.entry_id or event.root_id]),
        water_m3=(event.water_m3 or 0.0) / share,
        minutes=work.minutes.get(event.entry_id or event.root_id, 0.0) / share,
        hazard_id=UUID(event.hazard_id),
        entry_root_id=UUID(event.root_id),
    )


def _season_end(ends_on: dt.date | None, zone: ZoneInfo) -> dt.datetime | None:
    return None if ends_on is None else day_bounds(ends_on, zone)[1]
