"""How long each repair held, as people saw it. Nothing here writes.

A repair begins a spell when its work ends (a cover: when it is lifted). "Holding" moves the last moment it was seen
good; "back again" ends it as failed, somewhere between that moment and the one it was seen; another repair or closing
the hazard ends it without failure. What was withdrawn, undone or amended away does not count.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Count, Prefetch, QuerySet

from rinklog.clock import day_bounds
from rinklog.rink.models import Rink, Season
from rinklog.survival.kaplan_meier import Spell as Held
from rinklog.work.models import Entry, EntryEvent, EntryPerson, EntryZone, Hazard, HazardEvent, Repair

State = Hazard.State
ENDS_UNFAILED = (State.UNDER_REPAIR, State.CLOSED)


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
    """Every repair of a rink's hazards (of one season's, if given), in the order they were made; six queries.

    `until` is how far is known (now): a repair nobody spoke of again is censored there, or at its season's end.
    """
    told = HazardEvent.objects.filter(hazard__rink=rink, undone_at=None, at__lte=until)
    told = told.exclude(hazard__state=State.WITHDRAWN)
    if season is not None:
        told = told.filter(hazard__season=season)
    rows = list(
        told.select_related("hazard__season").prefetch_related(_entries()).order_by("hazard_id", "at", "turn")
    )
    roots = {row.entry.root_id for row in rows if row.entry is not None}
    lifted = _lifted(roots)
    shares = _shares(roots)
    zone = ZoneInfo(rink.time_zone)
    found: list[Spell] = []
    for _id, events in groupby(rows, key=lambda row: row.hazard_id):
        found += _of_hazard(list(events), lifted, shares, until, zone)
    return sorted(found, key=lambda spell: (spell.repaired_at, str(spell.hazard_id)))


def _entries() -> "Prefetch[str, QuerySet[Entry], str]":
    rows = Entry.objects.prefetch_related(
        Prefetch("zones", EntryZone.objects.only("entry_id", "zone_id")),
        Prefetch("people", EntryPerson.objects.only("entry_id", "minutes")),
    )
    return Prefetch("entry", rows)


def _lifted(roots: Iterable[UUID]) -> dict[UUID, dt.datetime]:
    rows = EntryEvent.objects.filter(root_id__in=roots, what=EntryEvent.What.LIFTED, undone_at=None)
    return dict(rows.values_list("root_id", "at"))


def _shares(roots: Iterable[UUID]) -> dict[UUID, int]:
    rows = Repair.objects.filter(root_id__in=roots).values("root_id").annotate(hazards=Count("id"))
    return defaultdict(lambda: 1, rows.values_list("root_id", "hazards"))


def _of_hazard(
    events: list[HazardEvent],
    lifted: dict[UUID, dt.datetime],
    shares: dict[UUID, int],
    until: dt.datetime,
    zone: ZoneInfo,
) -> list[Spell]:
    """The spells of one hazard, from its events in the order they happened."""
    found = []
    for place, event in enumerate(events):
        entry = event.entry
        if event.state != State.UNDER_REPAIR or entry is None or entry.is_open:
            continue
        begun = max(event.at, lifted.get(entry.root_id, event.at))
        later = [one for one in events[place + 1 :] if one.at >= begun]
        found.append(_spell(event, entry, begun, later, shares[entry.root_id], until, zone))
    return found


def _spell(
    event: HazardEvent,
    entry: Entry,
    begun: dt.datetime,
    later: list[HazardEvent],
    share: int,
    until: dt.datetime,
    zone: ZoneInfo,
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
        censored = max(good, min(until, _season_end(event.hazard.season, zone) or until))
    return Spell(
        defect=event.hazard.kind,
        method=entry.details.get("method") or entry.kind,
        repaired_at=begun,
        seen_good_last_at=good,
        failed_at=failed,
        censored_at=censored,
        zone_ids=tuple(sorted(row.zone_id for row in entry.zones.all())),
        water_m3=(entry.water_m3 or 0.0) / share,
        minutes=sum(row.minutes for row in entry.people.all()) / share,
        hazard_id=event.hazard_id,
        entry_root_id=entry.root_id,
    )


def _season_end(season: Season, zone: ZoneInfo) -> dt.datetime | None:
    return None if season.ends_on is None else day_bounds(season.ends_on, zone)[1]
