"""Reading the log: page by page, what is open now, and one entry's history. Nothing here writes."""

import datetime as dt
from dataclasses import dataclass
from uuid import UUID

from django.db.models import Exists, OuterRef, Prefetch, Q, QuerySet, Subquery

from rinklog.rink.models import Rink
from rinklog.work.models import Entry, EntryEvent, EntryPerson, EntryZone

State, What = Entry.State, EntryEvent.What
PAGE_ROWS = 40
# A coat that nobody called set within two days is not waited for any more. Common practice, no source.
WAIT_FOR_SET = dt.timedelta(hours=48)


@dataclass(frozen=True)
class LogFilter:
    """What to show of the log. `since` and `until` are moments, `until` not included."""

    kind: str = ""
    zone_id: int | None = None
    person_id: UUID | None = None
    since: dt.datetime | None = None
    until: dt.datetime | None = None
    withdrawn: bool = False


@dataclass(frozen=True)
class Place:
    """Where a page of the log begins: after the entry with this start and id."""

    started_at: dt.datetime
    id: UUID


@dataclass(frozen=True)
class LogPage:
    """One page, and where the next one begins (None on the last)."""

    entries: list[Entry]
    next: Place | None


def log_page(rink: Rink, wanted: LogFilter, after: Place | None = None, rows: int = PAGE_ROWS) -> LogPage:
    """One page of the log, the latest first; as quick on the last page as on the first."""
    states = [State.STANDING, State.WITHDRAWN] if wanted.withdrawn else [State.STANDING]
    found: list[Entry] = []
    for state in states:  # one ordered walk of the index each, then merged
        found += _rows(rink, state, wanted, after)[: rows + 1]
    found.sort(key=lambda entry: (entry.started_at, entry.id.hex), reverse=True)
    shown = found[:rows]
    last = Place(shown[-1].started_at, shown[-1].id) if len(found) > rows else None
    return LogPage(shown, last)


def _rows(rink: Rink, state: str, wanted: LogFilter, after: Place | None) -> QuerySet[Entry]:
    rows = Entry.objects.filter(rink=rink, state=state).select_related("by").order_by("-started_at", "-id")
    if wanted.kind:
        rows = rows.filter(kind=wanted.kind)
    if wanted.zone_id:
        rows = rows.filter(Exists(EntryZone.objects.filter(entry=OuterRef("pk"), zone_id=wanted.zone_id)))
    if wanted.person_id:
        worked = EntryPerson.objects.filter(entry=OuterRef("pk"), person_id=wanted.person_id)
        rows = rows.filter(Q(by_id=wanted.person_id) | Exists(worked))
    if wanted.since:
        rows = rows.filter(started_at__gte=wanted.since)
    if wanted.until:
        rows = rows.filter(started_at__lt=wanted.until)
    if after:
        rows = rows.filter(started_at__lte=after.started_at).exclude(
            started_at=after.started_at, id__gte=after.id
        )
    return rows


def latest(rink: Rink, rows: int) -> list[Entry]:
    """The last standing entries with who wrote them, in one query."""
    return list(_rows(rink, State.STANDING, LogFilter(), None)[:rows])


def last_flooded_zones(rink: Rink) -> set[int]:
    """Ids of the zones of the last standing flood."""
    last = _rows(rink, State.STANDING, LogFilter(kind="flood"), None).values("id")[:1]
    return set(EntryZone.objects.filter(entry_id=Subquery(last)).values_list("zone_id", flat=True))


def open_now(rink: Rink, now: dt.datetime) -> list[Entry]:
    """What waits for somebody: covers nobody lifted, and floods of the last days nobody called set; oldest first."""
    standing = Entry.objects.filter(rink=rink, state=State.STANDING)
    called = EntryEvent.objects.filter(
        root=OuterRef("root"), what__in=[What.SET, What.FROZEN], undone_at__isnull=True
    )
    floods = standing.filter(kind="flood", started_at__gte=now - WAIT_FOR_SET).filter(~Exists(called))
    # Without the state: SQLite would walk the whole log by it instead of the short index of what is open.
    covers = Entry.objects.filter(rink=rink, is_open=True)
    rows = floods.select_related("by").union(covers.select_related("by"), all=True)
    counting = [entry for entry in rows if entry.state == State.STANDING]
    return sorted(counting, key=lambda entry: entry.started_at)


def event(rink: Rink, id: UUID) -> EntryEvent | None:
    """One event of a rink's entry."""
    return EntryEvent.objects.select_related("root", "by").filter(root__rink=rink, id=id).first()


def standing_events(root_id: UUID) -> QuerySet[EntryEvent]:
    """What happened to an entry and was not taken back."""
    return EntryEvent.objects.filter(root_id=root_id, undone_at=None).select_related("by")


def all_events(root_id: UUID) -> list[EntryEvent]:
    """Everything that happened to an entry, taken back or not."""
    return list(
        EntryEvent.objects.filter(root_id=root_id).select_related("by", "root").order_by("recorded_at")
    )


def revisions(root_id: UUID) -> list[Entry]:
    """Every revision of an entry, the first one first, with zones and people."""
    return list(
        Entry.objects.filter(root_id=root_id)
        .select_related("by", "root__by", "grid", "season", "rink")
        .prefetch_related(
            Prefetch("zones", EntryZone.objects.select_related("zone").order_by("zone__row", "zone__column")),
            Prefetch("people", EntryPerson.objects.select_related("person").order_by("person__name")),
        )
        .order_by("recorded_at", "id")
    )


def current_of(entries: list[Entry]) -> Entry:
    """The revision people mean: the one that stands, else the withdrawn one, else the last."""
    for state in (State.STANDING, State.WITHDRAWN):
        for entry in entries:
            if entry.state == state:
                return entry
    return entries[-1]
