"""Writing a checked import: everything in one transaction, or nothing."""

import datetime as dt
from collections import Counter
from dataclasses import asdict, dataclass, field
from typing import Any
from uuid import UUID, uuid4

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.archive.check_world import grid_of
from rinklog.archive.columns import ENTRY, EVENT, HAZARD, HAZARD_EVENT, PERSON, SEASON
from rinklog.archive.plan import Plan, Shape, Typed
from rinklog.crew.models import Membership, Person
from rinklog.facts import Refused, fingerprint_of
from rinklog.geometry.grid import Grid as Lines
from rinklog.rink.models import Grid, Rink, Season, Zone
from rinklog.work.cones import cone_id
from rinklog.work.content import EntryContent
from rinklog.work.hazard_events import settle
from rinklog.work.hazards import HazardContent
from rinklog.work.kinds import KINDS
from rinklog.work.models import (
    ConeStand,
    Entry,
    EntryEvent,
    EntryPerson,
    EntryZone,
    Hazard,
    HazardEvent,
    Repair,
)

CHUNK = 500


@dataclass
class Book:
    """Rows that the file names by words, as this site knows them."""

    rink: Rink
    now: dt.datetime
    people: dict[str, Person] = field(default_factory=dict)
    grids: dict[str, Grid] = field(default_factory=dict)
    zones: dict[str, dict[str, Zone]] = field(default_factory=dict)
    seasons: dict[str, Season] = field(default_factory=dict)

    def grid(self, cell: str) -> Grid:
        """The grid of a cell; one that the rink never had is laid out as the file says."""
        if cell not in self.grids:
            shape = Shape.read(cell)
            assert shape is not None
            self.grids[cell] = grid_of(self.rink, shape) or lay_out(self.rink, shape, self.now)
            self.zones[cell] = {zone.label: zone for zone in Zone.objects.filter(grid=self.grids[cell])}
        return self.grids[cell]


def write(plan: Plan, *, rink: Rink, by: Person, now: dt.datetime) -> Counter[str]:
    """Write what a plan without problems says; returns how many rows of each record were added.

    Refused when the plan has problems. What changed since the check makes the database refuse the whole import.
    """
    if plan.problems:
        raise Refused(
            "file", _("%(count)d rows are wrong; nothing was imported.") % {"count": len(plan.problems)}
        )
    with transaction.atomic():
        book = Book(rink, now)
        write_people(plan, book)
        write_seasons(plan, book)
        hazards = write_hazards(plan, book)
        write_entries(plan, book)
        write_events(plan, book)
        write_hazard_events(plan, book)
        write_cones(plan, book)
        settle_entries(plan)
        for hazard in hazards | {row["hazard"] for row in plan.rows(HAZARD_EVENT)}:
            settle(hazard)
    added = Counter({record: len(rows) for record, rows in plan.new.items()})
    added[PERSON] = len(plan.people)
    return added


def write_people(plan: Plan, book: Book) -> None:
    """Those who come with the file become former crew: named on what they did, unable to sign in."""
    for login, name in sorted(plan.people.items()):
        person = Person(login=login, name=name, is_active=False)
        person.set_unusable_password()
        person.save()
        Membership.objects.create(
            person=person, rink=book.rink, role=Membership.Role.VOLUNTEER, since=book.now, left_at=book.now
        )
    book.people = {person.login: person for person in Person.objects.filter(memberships__rink=book.rink)}


def write_seasons(plan: Plan, book: Book) -> None:
    """Set up the seasons of the file; one of the rink that nothing was recorded in takes the file's dates."""
    for row in plan.rows(SEASON):
        Season.objects.update_or_create(
            rink=book.rink,
            name=row["season"],
            defaults={
                "grid": book.grid(row["grid"]),
                "starts_on": row["starts_on"],
                "ends_on": row["ends_on"],
            },
        )
    book.seasons = {season.name: season for season in Season.objects.filter(rink=book.rink)}


def lay_out(rink: Rink, shape: Shape, now: dt.datetime) -> Grid:
    """A grid of an earlier season, in the size the rink had then."""
    grid = Grid.objects.create(id=uuid4(), rink=rink, made_at=now, **asdict(shape))
    lines = Lines(shape.length_m, shape.width_m, shape.corner_m, shape.rows, shape.columns)
    Zone.objects.bulk_create(
        Zone(grid=grid, row=zone.row, column=zone.column, area_m2=zone.area_m2) for zone in lines.zones
    )
    return grid


def write_hazards(plan: Plan, book: Book) -> set[UUID]:
    """Write hazards with their zones; a number that is taken becomes the next free one."""
    through: Any = Hazard.zones.through
    made, places = [], []
    for row in plan.rows(HAZARD):
        season, grid = book.seasons[row["season"]], book.grid(row["grid"])
        zones = [book.zones[row["grid"]][label] for label in row["zones"]]
        made.append(hazard_of(row, book, season, grid, zones))
        places += [through(hazard_id=row["id"], zone_id=zone.id) for zone in zones]
    renumber(made)
    Hazard.objects.bulk_create(made, CHUNK)
    through.objects.bulk_create(places, CHUNK)
    return {hazard.id for hazard in made}


def hazard_of(row: Typed, book: Book, season: Season, grid: Grid, zones: list[Zone]) -> Hazard:
    """The hazard of a row."""
    said = {
        name: row[name]
        for name in ("kind", "severity", "x_m", "y_m", "note", "drift_depth_m", "wind_from_deg")
    }
    content = HazardContent(
        found_at=row["at"],
        zone_ids=tuple(sorted(zone.id for zone in zones)),
        cone_out=row["cone_out"],
        **said,
    )
    return Hazard(
        id=row["id"],
        rink=book.rink,
        season=season,
        grid=grid,
        number=row["number"],
        state=row["state"],
        cone_out=row["cone_out"],
        found_at=row["at"],
        by=book.people[row["by"]],
        recorded_at=row["recorded_at"],
        sent_at=row["sent_at"],
        fingerprint=fingerprint_of({"hazard": asdict(content)}),
        **said,
    )


def renumber(hazards: list[Hazard]) -> None:
    """Keep numbers unique in their season."""
    taken: dict[UUID, set[int]] = {}
    for hazard in hazards:
        if hazard.season_id not in taken:
            numbers = Hazard.objects.filter(season=hazard.season_id).values_list("number", flat=True)
            taken[hazard.season_id] = set(numbers)
        used = taken[hazard.season_id]
        if hazard.number in used:
            hazard.number = max(used) + 1
        used.add(hazard.number)


def write_entries(plan: Plan, book: Book) -> None:
    """Write entries with their zones and people; what they amend here gives way."""
    rows = plan.rows(ENTRY)
    for row in rows:
        book.grid(row["grid"])
    amended = [row["amends"] for row in rows if row["amends"] and row["state"] != Entry.State.UNDONE]
    for start in range(0, len(amended), CHUNK):
        standing = Entry.objects.filter(id__in=amended[start : start + CHUNK], state=Entry.State.STANDING)
        standing.update(state=Entry.State.REPLACED)
    for start in range(0, len(rows), CHUNK):
        some = rows[start : start + CHUNK]
        Entry.objects.bulk_create([entry_of(row, book) for row in some])
        EntryZone.objects.bulk_create(
            [
                EntryZone(
                    entry_id=row["id"],
                    zone=book.zones[row["grid"]][label],
                    area_m2=book.zones[row["grid"]][label].area_m2,
                    condition=row["conditions"].get(label, ""),
                )
                for row in some
                for label in row["zones"]
            ]
        )
        EntryPerson.objects.bulk_create(
            [
                EntryPerson(entry_id=row["id"], person=book.people[login], minutes=minutes)
                for row in some
                for login, minutes in row["people"].items()
            ]
        )
    repairs = [Repair(root_id=row["root"], hazard_id=hazard) for row in rows for hazard in row["repairs"]]
    Repair.objects.bulk_create(repairs, CHUNK, ignore_conflicts=True)


def entry_of(row: Typed, book: Book) -> Entry:
    """The entry of a row."""
    zones = book.zones[row["grid"]]
    content = content_of(row, book)
    return Entry(
        id=row["id"],
        root_id=row["root"],
        amends_id=row["amends"],
        reason=row["reason"],
        state=row["state"],
        rink=book.rink,
        season=book.seasons[row["season"]],
        grid=book.grid(row["grid"]),
        kind=row["kind"],
        started_at=row["at"],
        ended_at=row["ended_at"],
        by=book.people[row["by"]],
        recorded_at=row["recorded_at"],
        sent_at=row["sent_at"],
        water_m3=row["water_m3"],
        area_m2=sum(zones[label].area_m2 for label in row["zones"]),
        details=row["details"],
        note=row["note"],
        lesson=row["lesson"],
        seen_air_c=row["seen_air_c"],
        seen_wind_ms=row["seen_wind_ms"],
        seen_sky=row["seen_sky"],
        is_open=KINDS[row["kind"]].stays_open,
        fingerprint=content.fingerprint(row["kind"]),
    )


def content_of(row: Typed, book: Book) -> EntryContent:
    """What the person said, with the ids of this site: a phone that sends it again is understood."""
    ids = {label: book.zones[row["grid"]][label].id for label in row["zones"]}
    return EntryContent(
        started_at=row["at"],
        ended_at=row["ended_at"],
        zone_ids=tuple(sorted(ids.values())),
        conditions={ids[label]: condition for label, condition in row["conditions"].items()},
        minutes={book.people[login].id: minutes for login, minutes in row["people"].items()},
        water_m3=row["water_m3"],
        details=row["details"],
        hazard_ids=row["said_repaired"],
        holding=row["said_holding"],
        note=row["note"],
        lesson=row["lesson"],
        seen_air_c=row["seen_air_c"],
        seen_wind_ms=row["seen_wind_ms"],
        seen_sky=row["seen_sky"],
    )


def write_events(plan: Plan, book: Book) -> None:
    """Write what happened to entries."""
    EntryEvent.objects.bulk_create(
        [
            EntryEvent(
                id=row["id"],
                root_id=row["entry"],
                what=row["state"],
                at=row["at"],
                by=book.people[row["by"]],
                recorded_at=row["recorded_at"],
                reason=row["reason"],
                details=row["details_json"],
                undone_at=row["undone_at"],
            )
            for row in plan.rows(EVENT)
        ],
        CHUNK,
    )


def write_hazard_events(plan: Plan, book: Book) -> None:
    """Write what happened to hazards; a turn that is taken becomes the next free one."""
    last: dict[UUID, set[int]] = {}
    made = []
    for row in plan.rows(HAZARD_EVENT):
        if row["hazard"] not in last:
            turns = HazardEvent.objects.filter(hazard=row["hazard"]).values_list("turn", flat=True)
            last[row["hazard"]] = set(turns)
        turns_taken = last[row["hazard"]]
        turn = row["turn"] if row["turn"] not in turns_taken else max(turns_taken) + 1
        turns_taken.add(turn)
        made.append(
            HazardEvent(
                id=row["id"],
                hazard_id=row["hazard"],
                state=row["state"],
                cone_out=row["cone_out"],
                at=row["at"],
                by=book.people[row["by"]],
                recorded_at=row["recorded_at"],
                note=row["note"],
                entry_id=row["entry"],
                turn=turn,
                undone_at=row["undone_at"],
            )
        )
    HazardEvent.objects.bulk_create(made, CHUNK)


def write_cones(plan: Plan, book: Book) -> None:
    """Write which numbered cones were put out, each with what was said then."""
    said = [(row, row["id"]) for row in plan.rows(HAZARD)]
    said += [(row, row["hazard"]) for row in plan.rows(HAZARD_EVENT)]
    ConeStand.objects.bulk_create(
        [
            ConeStand(
                id=cone_id(row["id"]),
                hazard_id=hazard,
                number=row["cone_number"],
                at=row["at"],
                by=book.people[row["by"]],
                recorded_at=row["recorded_at"],
            )
            for row, hazard in said
            if row["cone_number"]
        ],
        CHUNK,
    )


def settle_entries(plan: Plan) -> None:
    """Close the covers that an event lifted, and withdraw what an event withdrew."""
    counted = [row for row in plan.rows(EVENT) if not row["undone_at"]]
    lifted = [row["entry"] for row in counted if row["state"] == EntryEvent.What.LIFTED]
    withdrawn = [row["entry"] for row in counted if row["state"] == EntryEvent.What.WITHDRAWN]
    Entry.objects.filter(root__in=lifted).update(is_open=False)
    Entry.objects.filter(root__in=withdrawn, state=Entry.State.STANDING).update(state=Entry.State.WITHDRAWN)
