"""The log and the hazards of a rink as one CSV file: RFC 4180, UTF-8, the same log gives the same bytes."""

import csv
import io
import tempfile
from collections.abc import Iterator
from typing import Any
from uuid import UUID

from django.db.models import Prefetch

from rinklog.archive import cells, columns
from rinklog.archive.snapshot import snapshot
from rinklog.crew.models import Person
from rinklog.rink.models import Grid, Rink, Season
from rinklog.work.cones import cone_id
from rinklog.work.kinds import KINDS
from rinklog.work.kinds.base import Choice, Number, Words, Yes
from rinklog.work.models import Entry, EntryEvent, EntryPerson, EntryZone, Hazard, HazardEvent

CHUNK = 1000
IN_MEMORY = 4 * 1024 * 1024
PIECE = 64 * 1024
Cells = dict[str, str]


def log_csv(rink: Rink) -> Iterator[bytes]:
    """The file, in pieces of about a thousand rows, read from the database that the rink came from."""
    buffer = io.StringIO(newline="")
    writer = csv.DictWriter(buffer, columns.HEADER, restval="", lineterminator="\r\n")
    writer.writeheader()
    for count, row in enumerate(rows(rink), 1):
        writer.writerow(row)
        if count % CHUNK == 0:
            yield take(buffer)
    yield take(buffer)


def of(model: Any, rink: Rink) -> Any:
    """The rows of a model in the database that the rink came from: an export may read from a snapshot."""
    return model.objects.using(rink._state.db)


def log_pieces(rink: Rink) -> Iterator[bytes]:
    """The whole log as it was at one moment, in pieces; written aside first, so that a slow reader holds no snapshot.

    Nothing is opened before the first piece is asked for.
    """
    with tempfile.SpooledTemporaryFile(max_size=IN_MEMORY) as file:
        with snapshot() as alias:
            for piece in log_csv(Rink.objects.using(alias).get(id=rink.id)):
                file.write(piece)
        file.seek(0)
        yield from iter(lambda: file.read(PIECE), b"")


def take(buffer: io.StringIO) -> bytes:
    """What was written since, as bytes."""
    written = buffer.getvalue().encode()
    buffer.seek(0)
    buffer.truncate()
    return written


def rows(rink: Rink) -> Iterator[Cells]:
    """Every row: who and which seasons first, then hazards, entries and what happened to them."""
    for person in named_people(rink):
        yield {"record": columns.PERSON, "by": cells.text(person.login), "name": cells.text(person.name)}
    for season in used_seasons(rink):
        yield season_row(season)
    yield from map(hazard_row, hazards(rink).iterator(CHUNK))
    yield from map(entry_row, entries(rink).iterator(CHUNK))
    yield from map(event_row, events(rink).iterator(CHUNK))
    yield from map(hazard_event_row, hazard_events(rink).iterator(CHUNK))


def named_people(rink: Rink) -> list[Person]:
    """Everybody whom some row names."""
    tables: tuple[tuple[Any, str, str], ...] = (
        (Entry, "rink", "by"),
        (EntryPerson, "entry__rink", "person"),
        (EntryEvent, "root__rink", "by"),
        (Hazard, "rink", "by"),
        (HazardEvent, "hazard__rink", "by"),
    )
    ids = {
        id
        for table, path, field in tables
        for id in of(table, rink).filter(**{path: rink}).order_by().values_list(field, flat=True).distinct()
    }
    return list(of(Person, rink).filter(id__in=ids).order_by("login"))


def used_seasons(rink: Rink) -> list[Season]:
    """The seasons that something was recorded in."""
    used = set(of(Entry, rink).filter(rink=rink).order_by().values_list("season", flat=True).distinct())
    used |= set(of(Hazard, rink).filter(rink=rink).order_by().values_list("season", flat=True).distinct())
    return list(of(Season, rink).filter(id__in=used).select_related("grid").order_by("starts_on", "name"))


def entries(rink: Rink) -> Any:
    """All entries with every revision, in the order they were recorded."""
    return (
        of(Entry, rink)
        .filter(rink=rink)
        .select_related("season", "grid", "by")
        .prefetch_related(
            Prefetch("zones", EntryZone.objects.select_related("zone")),
            Prefetch("people", EntryPerson.objects.select_related("person")),
            "repairs",
        )
        .order_by("recorded_at", "id")
    )


def events(rink: Rink) -> Any:
    """What happened to entries later."""
    return of(EntryEvent, rink).filter(root__rink=rink).select_related("by").order_by("recorded_at", "id")


def hazards(rink: Rink) -> Any:
    """All hazards."""
    return (
        of(Hazard, rink)
        .filter(rink=rink)
        .select_related("season", "grid", "by")
        .prefetch_related("zones", "cones")
        .order_by("recorded_at", "id")
    )


def hazard_events(rink: Rink) -> Any:
    """What happened to hazards."""
    return (
        of(HazardEvent, rink)
        .filter(hazard__rink=rink)
        .select_related("by", "hazard")
        .prefetch_related("hazard__cones")
        .order_by("hazard__recorded_at", "hazard_id", "turn")
    )


def grid_cell(grid: Grid) -> str:
    """A grid by its shape, not by an id: another site knows it by the same words."""
    size = f"{grid.length_m!r}x{grid.width_m!r}"
    return f"{grid.rows}x{grid.columns} {size} r{grid.corner_m!r}"


def season_row(season: Season) -> Cells:
    """One season."""
    return {
        "record": columns.SEASON,
        "season": cells.text(season.name),
        "grid": grid_cell(season.grid),
        "starts_on": cells.day(season.starts_on),
        "ends_on": cells.day(season.ends_on),
    }


def entry_row(entry: Entry) -> Cells:
    """One entry or one correction of it."""
    zones = sorted(entry.zones.all(), key=lambda one: (one.zone.row, one.zone.column))
    return {
        "record": columns.ENTRY,
        "id": str(entry.id),
        "root": str(entry.root_id),
        "amends": str(entry.amends_id or ""),
        "season": cells.text(entry.season.name),
        "grid": grid_cell(entry.grid),
        "kind": entry.kind,
        "state": entry.state,
        "at": cells.moment(entry.started_at),
        "ended_at": cells.moment(entry.ended_at),
        "by": cells.text(entry.by.login),
        "recorded_at": cells.moment(entry.recorded_at),
        "sent_at": cells.moment(entry.sent_at),
        "zones": " ".join(one.zone.label for one in zones),
        "conditions": cells.pairs({one.zone.label: one.condition for one in zones if one.condition}),
        "people_minutes": cells.pairs(
            {one.person.login: cells.number(one.minutes) for one in entry.people.all()}
        ),
        "water_m3": cells.number(entry.water_m3),
        "area_m2": cells.number(round(entry.area_m2, 2)),
        "repairs": cells.ids([one.hazard_id for one in entry.repairs.all()]),
        "seen_air_c": cells.number(entry.seen_air_c),
        "seen_wind_ms": cells.number(entry.seen_wind_ms),
        "seen_sky": entry.seen_sky,
        "lesson": cells.yes(entry.lesson),
        "reason": cells.text(entry.reason),
        "note": cells.text(entry.note),
        **details_cells(entry.kind, entry.details),
    }


def details_cells(kind: str, details: dict[str, Any]) -> Cells:
    """The details of an entry, each in its column; what has none goes to the JSON column."""
    known = KINDS[kind].details if kind in KINDS else {}
    written: Cells = {}
    rest: dict[str, Any] = {}
    for key, value in details.items():
        match known.get(key):
            case Number() if isinstance(value, int | float):
                written[columns.DETAIL + key] = cells.number(value)
            case Choice(many=True) if isinstance(value, list):
                written[columns.DETAIL + key] = " ".join(value)
            case Yes() if value is True:
                written[columns.DETAIL + key] = "yes"
            case Choice() | Words() if isinstance(value, str):
                written[columns.DETAIL + key] = cells.text(value)
            case _:
                rest[key] = value
    return written | {"details_json": cells.more(rest)}


def event_row(event: EntryEvent) -> Cells:
    """Something that happened to an entry."""
    return {
        "record": columns.EVENT,
        "id": str(event.id),
        "entry": str(event.root_id),
        "state": event.what,
        "at": cells.moment(event.at),
        "by": cells.text(event.by.login),
        "recorded_at": cells.moment(event.recorded_at),
        "undone_at": cells.moment(event.undone_at),
        "reason": cells.text(event.reason),
        "details_json": cells.more(event.details),
    }


def hazard_row(hazard: Hazard) -> Cells:
    """One hazard as it was found, and the state it is in now."""
    zones = sorted(hazard.zones.all(), key=lambda zone: (zone.row, zone.column))
    return {
        "record": columns.HAZARD,
        "id": str(hazard.id),
        "season": cells.text(hazard.season.name),
        "grid": grid_cell(hazard.grid),
        "kind": hazard.kind,
        "state": hazard.state,
        "severity": hazard.severity,
        "number": str(hazard.number),
        "at": cells.moment(hazard.found_at),
        "by": cells.text(hazard.by.login),
        "recorded_at": cells.moment(hazard.recorded_at),
        "sent_at": cells.moment(hazard.sent_at),
        "zones": " ".join(zone.label for zone in zones),
        "x_m": cells.number(hazard.x_m),
        "y_m": cells.number(hazard.y_m),
        "drift_depth_m": cells.number(hazard.drift_depth_m),
        "wind_from_deg": cells.number(hazard.wind_from_deg),
        "cone_out": cells.yes(hazard.cone_out),
        "cone_number": number_put(hazard, hazard.id),
        "note": cells.text(hazard.note),
    }


def number_put(hazard: Hazard, said: UUID) -> str:
    """The number of the cone that came with what was said of a hazard."""
    put = cone_id(said)
    return next((str(cone.number) for cone in hazard.cones.all() if cone.id == put), "")


def hazard_event_row(event: HazardEvent) -> Cells:
    """Something that happened to a hazard."""
    return {
        "record": columns.HAZARD_EVENT,
        "id": str(event.id),
        "entry": str(event.entry_id or ""),
        "hazard": str(event.hazard_id),
        "state": event.state,
        "turn": str(event.turn),
        "at": cells.moment(event.at),
        "by": cells.text(event.by.login),
        "recorded_at": cells.moment(event.recorded_at),
        "undone_at": cells.moment(event.undone_at),
        "cone_out": cells.yes(event.cone_out),
        "cone_number": number_put(event.hazard, event.id),
        "note": cells.text(event.note),
    }
