"""Writing hazards: what was found on the ice or broken on the rink, and what happened to it.

A hazard is never edited: what happens to it is an event, and its state is its latest event that was not taken back.
Every call takes ids made by the caller and can be made twice: the second changes nothing.
"""

import datetime as dt
from dataclasses import asdict, dataclass, replace
from uuid import UUID, uuid5

from django.db import IntegrityError, transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from rinklog.crew.closed import refuse_when_closed
from rinklog.crew.models import Person
from rinklog.facts import fingerprint_of
from rinklog.geometry.grid import Grid as Plan
from rinklog.rink.models import Grid, Rink, Season, Zone
from rinklog.rink.queries import season_on
from rinklog.work.errors import Conflict, Refused
from rinklog.work.hazard_events import append, lock, settle
from rinklog.work.models import Hazard, HazardEvent

FUTURE_SLACK = dt.timedelta(hours=26)
State = Hazard.State

# Broken things may be anywhere; what is in the ice has a place on it.
DAMAGE = frozenset(
    {
        Hazard.Kind.LINER,
        Hazard.Kind.BOARD,
        Hazard.Kind.STAKE,
        Hazard.Kind.NET,
        Hazard.Kind.LIGHT,
        Hazard.Kind.HOSE,
    }
)


@dataclass(frozen=True)
class HazardContent:
    """What a person says about a hazard: plain values, SI. Two posts with equal content are the same post."""

    kind: str
    found_at: dt.datetime
    severity: str = Hazard.Severity.TRIP
    x_m: float | None = None  # along the length, from the near left corner
    y_m: float | None = None  # across the width
    zone_ids: tuple[int, ...] = ()
    cone_out: bool = False
    note: str = ""
    drift_depth_m: float | None = None
    wind_from_deg: float | None = None


@dataclass(frozen=True)
class RecordedHazard:
    """What recording did: the row, and whether this call made it."""

    hazard: Hazard
    made: bool


def record_hazard(
    *,
    id: UUID,
    rink: Rink,
    content: HazardContent,
    by: Person,
    now: dt.datetime,
    local_day: dt.date,
    sent_at: dt.datetime | None = None,
) -> RecordedHazard:
    """Record a hazard. `local_day` is the rink-local date it was found on: it decides the season.

    Raises Refused for content that cannot be recorded, Conflict when the id holds other content.
    """
    season = season_on(rink, local_day)
    if season is None:
        raise Refused("found", _("No season had begun on that date; the keeper sets seasons up."))
    content = replace(content, zone_ids=tuple(sorted(set(content.zone_ids))), note=content.note.strip())
    _check(content, now)
    zone_ids = _place(season.grid, content)
    fingerprint = fingerprint_of({"hazard": asdict(content)})
    if found := _same_id(id, rink, by, fingerprint):
        return found
    refuse_when_closed(season, by, "found")
    said = asdict(content)
    said.pop("zone_ids")
    said.pop("cone_out")
    try:
        with transaction.atomic():
            hazard = Hazard.objects.create(
                id=id,
                rink=rink,
                season=season,
                grid=season.grid,
                number=_next_number(season),
                by=by,
                recorded_at=now,
                sent_at=sent_at,
                fingerprint=fingerprint,
                **said,
            )
            hazard.zones.set(zone_ids)
            _first_events(hazard, content, by, now)
    except IntegrityError:
        # Two posts of the same id at the same moment: the first one won.
        if found := _same_id(id, rink, by, fingerprint):
            return found
        raise
    hazard.refresh_from_db(fields=["state", "cone_out"])
    return RecordedHazard(hazard, made=True)


def add_event(
    *,
    id: UUID,
    hazard: Hazard,
    state: str,
    by: Person,
    now: dt.datetime,
    at: dt.datetime | None = None,
    cone_out: bool | None = None,
    note: str = "",
) -> HazardEvent:
    """Say what happened to a hazard: marked, under repair, holding, back again or closed.

    `cone_out` None leaves the cone as it was. The same id with the same content is the same event; raises Conflict
    when the id holds other content, Refused when the event cannot be.
    """
    at = at or now
    if state not in State.values or state in (State.FOUND, State.WITHDRAWN):
        raise Refused("state", _("“%(state)s” cannot be said of a hazard here.") % {"state": state})
    if at > now + FUTURE_SLACK:
        raise Refused("at", _("The time is in the future; allowed is up to now."))
    if at < hazard.found_at:
        raise Refused("at", _("The time is before the hazard was found; allowed is from then on."))
    refuse_when_closed(hazard.season, by, "at")
    with transaction.atomic():
        locked = lock(hazard.id)
        if existing := HazardEvent.objects.filter(id=id).first():
            same = existing.hazard_id, existing.state, existing.note, existing.by_id
            if same != (hazard.id, state, note.strip()[:400], by.id):
                raise Conflict(existing if existing.hazard_id == hazard.id else None)
            return existing
        if locked.state == State.WITHDRAWN:
            raise Refused("state", _("This hazard was withdrawn as a mistake; put up a new one instead."))
        event = append(locked, id=id, state=state, at=at, cone_out=cone_out, by=by, now=now, note=note)
        settle(hazard.id)
    return event


def withdraw_hazard(*, id: UUID, hazard: Hazard, reason: str, by: Person, now: dt.datetime) -> HazardEvent:
    """Withdraw a hazard that was put up by mistake. It leaves every list; its history keeps the reason."""
    if not reason.strip():
        raise Refused("note", _("Say in a few words why it is withdrawn: the reason is empty."))
    refuse_when_closed(hazard.season, by, "note")
    with transaction.atomic():
        locked = lock(hazard.id)
        if existing := HazardEvent.objects.filter(hazard=hazard, state=State.WITHDRAWN).first():
            return existing
        latest = HazardEvent.objects.filter(hazard=hazard).aggregate(at=Max("at"))["at"] or now
        event = append(
            locked,
            id=id,
            state=State.WITHDRAWN,
            at=max(now, latest),
            cone_out=False,
            by=by,
            now=now,
            note=reason,
        )
        settle(hazard.id)
    return event


def undo_event(*, event: HazardEvent, by: Person, now: dt.datetime, within: dt.timedelta) -> bool:
    """Take back what was just said of a hazard. False when it was already taken back.

    Only the person who said it may, and only for a while. The first event cannot be: withdraw the hazard. What an
    entry said is taken back with the entry. Refused otherwise.
    """
    if event.by_id != by.id:
        raise Refused(
            "event", _("Only the person who said it can take it back; add what is true now instead.")
        )
    if now - event.recorded_at > within:
        raise Refused(
            "event", _("It is too late to take this back with one tap; add what is true now instead.")
        )
    if event.state in (State.FOUND, State.WITHDRAWN):
        raise Refused("event", _("This cannot be taken back; withdraw the hazard, or put up a new one."))
    if event.entry_id:
        raise Refused("event", _("An entry of the log says this; undo or amend the entry."))
    refuse_when_closed(event.hazard.season, by, "event")
    with transaction.atomic():
        lock(event.hazard_id)
        moved = HazardEvent.objects.filter(id=event.id, undone_at=None).update(undone_at=now)
        settle(event.hazard_id)
    return moved == 1


def _check(content: HazardContent, now: dt.datetime) -> None:
    for field, value, allowed in (
        ("kind", content.kind, Hazard.Kind.values),
        ("severity", content.severity, Hazard.Severity.values),
    ):
        if value not in allowed:
            raise Refused(
                field,
                _("“%(value)s” is not known here; allowed are %(allowed)s.")
                % {"value": value, "allowed": ", ".join(allowed)},
            )
    if content.found_at > now + FUTURE_SLACK:
        raise Refused("found", _("The time is in the future; allowed is up to now."))
    if content.kind != Hazard.Kind.DRIFT and (content.drift_depth_m or content.wind_from_deg is not None):
        raise Refused("kind", _("Only a drift has a depth and a wind."))
    if content.drift_depth_m is not None and not 0 < content.drift_depth_m <= 10:
        raise Refused("drift_depth", _("The drift's depth is out of range; allowed is above 0 to 10 m."))
    if content.wind_from_deg is not None and not 0 <= content.wind_from_deg < 360:
        raise Refused(
            "wind_from", _("The wind's direction is out of range; allowed is 0 to below 360 degrees.")
        )


def _place(grid: Grid, content: HazardContent) -> list[int]:
    """Ids of the zones it is in: those picked, else the one under the point. Refused when it has no place."""
    on_grid = {zone.id: zone for zone in Zone.objects.filter(grid=grid)}
    if missing := set(content.zone_ids) - set(on_grid):
        raise Refused(
            "zones",
            _("%(count)d of the picked zones are not on this season's grid; pick them again.")
            % {"count": len(missing)},
        )
    if (content.x_m is None) != (content.y_m is None):
        raise Refused("zones", _("Half of the point is missing; tap the map again."))
    if content.x_m is None or content.y_m is None:
        if not content.zone_ids and content.kind not in DAMAGE:
            raise Refused("zones", _("Tap the map where it is, or pick a zone: no place is given."))
        return list(content.zone_ids)
    if not (0 <= content.x_m <= grid.length_m and 0 <= content.y_m <= grid.width_m):
        raise Refused("zones", _("The point is off the rink; tap the map again."))
    row, column = Plan(grid.length_m, grid.width_m, 0.0, grid.rows, grid.columns).cell_at(
        content.x_m, content.y_m
    )
    under = [zone.id for zone in on_grid.values() if (zone.row, zone.column) == (row, column)]
    return list(content.zone_ids) or under


def _same_id(id: UUID, rink: Rink, by: Person, fingerprint: str) -> RecordedHazard | None:
    existing = Hazard.objects.filter(id=id).first()
    if existing is None:
        return None
    if (existing.fingerprint, existing.rink_id, existing.by_id) != (fingerprint, rink.id, by.id):
        raise Conflict(existing if existing.rink_id == rink.id else None)
    return RecordedHazard(existing, made=False)


def _next_number(season: Season) -> int:
    """The next number of the season. The lock on the season makes two at once wait for each other."""
    Season.objects.select_for_update(no_key=True).get(id=season.id)
    return (Hazard.objects.filter(season=season).aggregate(last=Max("number"))["last"] or 0) + 1


def _first_events(hazard: Hazard, content: HazardContent, by: Person, now: dt.datetime) -> None:
    at = content.found_at
    for state, cone_out in ((State.FOUND, False), (State.MARKED, True)):
        if state == State.FOUND or content.cone_out:
            append(
                hazard,
                id=uuid5(hazard.id, state),
                state=state,
                at=at,
                cone_out=cone_out,
                by=by,
                now=now,
                note="",
            )
    settle(hazard.id)
