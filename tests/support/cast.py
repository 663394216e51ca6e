"""A named cast for tests: two rinks of one invented site, and people with fixed roles on the first.

Ada keeps, Bo coordinates, Cleo and Dag volunteer, Eli is a guest; Rut keeps the other rink and has nothing to do here.
"""

import datetime as dt
from dataclasses import dataclass
from uuid import UUID, uuid4

from rinklog.crew.models import Membership, Person
from rinklog.rink.models import Rink, Season, Zone
from rinklog.rink.queries import zones
from rinklog.rink.services import RinkSize, make_rink
from rinklog.work.content import EntryContent
from rinklog.work.entry_events import add_event
from rinklog.work.models import Entry, EntryEvent
from rinklog.work.services import record_entry

NOW = dt.datetime(2026, 1, 15, 20, 30, tzinfo=dt.UTC)
PASSWORD = "cold hands warm hut"

# What a kind of work cannot do without.
USUAL: dict[str, dict[str, object]] = {
    "snow-removal": {"details": {"tools": ["shovel"]}},
    "patch": {"details": {"method": "slush-pack"}},
    "torch-repair": {"details": {"flame_minutes": 12.0, "fuel": "propane", "second_person": "Dag"}},
    "tarp-melt": {"details": {"cover": "dark-tarp"}},
    "drill-hole": {"details": {"clear_ice_m": 0.11}},
}


@dataclass
class Cast:
    """The people and the two rinks."""

    rink: Rink
    other_rink: Rink
    ada: Person
    bo: Person
    cleo: Person
    dag: Person
    eli: Person
    rut: Person

    @property
    def season(self) -> Season:
        """The first rink's season."""
        return self.rink.seasons.get()

    @property
    def zones(self) -> list[Zone]:
        """The first rink's zones, row by row."""
        return zones(self.season.grid)

    def flood(
        self, *, by: Person | None = None, id: UUID | None = None, now: dt.datetime = NOW, **content: object
    ) -> Entry:
        """Record a flood of 400 litres on the first two zones, or as told."""
        return self.work("flood", by=by, id=id, now=now, **content)

    def work(
        self,
        kind: str,
        *,
        by: Person | None = None,
        id: UUID | None = None,
        now: dt.datetime = NOW,
        **content: object,
    ) -> Entry:
        """Record work of any kind, with what that kind cannot do without."""
        person = by or self.cleo
        values: dict[str, object] = {
            "started_at": now,
            "zone_ids": tuple(zone.id for zone in self.zones[:2]),
            "minutes": {person.id: 30.0},
        }
        values |= USUAL.get(kind, {})
        if kind == "drill-hole":
            values["zone_ids"] = (self.zones[0].id,)
        if kind == "inspection":
            values["conditions"] = dict.fromkeys(values["zone_ids"], "good")  # type: ignore[call-overload]
        if kind == "flood":
            values |= {"water_m3": 0.4, "details": {"by": "amount", "water": "cold", "tool": "hose"}}
        saved = record_entry(
            id=id or uuid4(),
            rink=self.rink,
            kind=kind,
            content=EntryContent(**(values | content)),  # type: ignore[arg-type]
            by=person,
            now=now,
            local_day=now.date(),
        )
        return saved.entry

    def was_set(self, entry: Entry | None = None, *, by: Person | None = None) -> EntryEvent:
        """Say that an entry (a fresh flood, unless told) is set."""
        flood = entry or self.flood()
        return add_event(id=uuid4(), entry=flood, what="set", by=by or self.cleo, now=NOW).event


def make_cast() -> Cast:
    """Make everybody. The first rink is 40 m × 20 m with 4 m corners, 8 × 4 zones, in Oslo's time zone."""
    rinks = [
        make_rink(
            name=name,
            place="Rimvinkel",
            size=RinkSize(40, 20, 4),
            time_zone="Europe/Oslo",
            rows=8,
            columns=4,
            starts_on=dt.date(2025, 11, 1),
            now=NOW,
        )
        for name in ("Millpond Rink", "School Rink")
    ]
    role = Membership.Role
    people = {
        "ada": role.KEEPER,
        "bo": role.COORDINATOR,
        "cleo": role.VOLUNTEER,
        "dag": role.VOLUNTEER,
        "eli": role.GUEST,
    }
    made = {login: make_person(login, rinks[0], what) for login, what in people.items()}
    return Cast(rink=rinks[0], other_rink=rinks[1], rut=make_person("rut", rinks[1], role.KEEPER), **made)


def make_person(login: str, rink: Rink, role: str) -> Person:
    """Make a person who can sign in with PASSWORD and has a role on a rink."""
    person = Person(login=login, name=login.capitalize())
    person.set_password(PASSWORD)
    person.save()
    Membership.objects.create(person=person, rink=rink, role=role, since=NOW)
    return person
