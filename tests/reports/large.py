"""A generated season of many entries, for sums that another path adds up as well."""

import datetime as dt
import random
from uuid import UUID

from rinklog.rink.models import Season, Zone
from rinklog.work.models import Entry, EntryPerson, EntryZone, Hazard, HazardEvent, Repair
from tests.support.cast import NOW, Cast

KINDS = ("flood", "snow-removal", "patch", "inspection", "drill-hole", "flood")
START = dt.datetime(2025, 11, 1, 5, tzinfo=dt.UTC)


def generate(cast: Cast, entries: int, season: Season | None = None, seed: int = 1) -> None:
    """Entries over a season from 1 November, a tenth of them no longer standing; amounts and minutes at random."""
    season, chance = season or cast.season, random.Random(seed)
    people = [cast.ada, cast.bo, cast.cleo, cast.dag]
    step = dt.timedelta(days=75) / entries
    rows: list[Entry] = []
    for number in range(entries):
        kind, id = KINDS[number % len(KINDS)], UUID(int=chance.getrandbits(128))
        start = START + number * step
        state = "standing" if number % 10 else chance.choice(["replaced", "withdrawn", "undone"])
        water = round(chance.uniform(0.01, 2.0), 3) if kind in ("flood", "patch") else None
        rows.append(
            Entry(
                id=id, root_id=id, rink=season.rink, season=season, grid=season.grid, kind=kind, state=state,
                started_at=start, ended_at=start + dt.timedelta(minutes=40), by=cast.cleo, recorded_at=NOW,
                water_m3=water, area_m2=50.0, details={"by": "amount"} if kind == "flood" else {}, fingerprint="",
            )
        )  # fmt: skip
    Entry.objects.bulk_create(rows, batch_size=2000)
    zones = list(Zone.objects.filter(grid=season.grid).order_by("row", "column")[8:10])
    EntryZone.objects.bulk_create(
        [EntryZone(entry=row, zone=zone, area_m2=25.0) for row in rows for zone in zones], batch_size=5000
    )
    EntryPerson.objects.bulk_create(
        [
            EntryPerson(entry=row, person=person, minutes=chance.randrange(5, 180))
            for row in rows
            for person in chance.sample(people, 2)
        ],
        batch_size=5000,
    )


METHODS = ("slush-pack", "hot-water-pour", "bucket-pour")
DEFECTS = ("bump", "crack", "rut")
HOUR = dt.timedelta(hours=1)


def generate_repairs(cast: Cast, hazards: int, season: Season | None = None, seed: int = 1) -> None:
    """Hazards that were repaired once each: half came back after some days, a quarter was closed, the rest holds."""
    season, chance = season or cast.season, random.Random(seed)
    at_work = dt.datetime(season.starts_on.year, 11, 2, 8, tzinfo=dt.UTC)
    zone = Zone.objects.filter(grid=season.grid).order_by("row", "column")[9]
    made: list[tuple[Hazard, Entry, list[HazardEvent]]] = []
    for number in range(hazards):
        made.append(_repaired(cast, season, number + 1, at_work + number * HOUR * 9, chance))
    Hazard.objects.bulk_create([hazard for hazard, _entry, _events in made])
    Entry.objects.bulk_create([entry for _hazard, entry, _events in made])
    HazardEvent.objects.bulk_create([event for _hazard, _entry, events in made for event in events])
    Repair.objects.bulk_create([Repair(root=entry, hazard=hazard) for hazard, entry, _events in made])
    EntryZone.objects.bulk_create([EntryZone(entry=entry, zone=zone, area_m2=25.0) for _h, entry, _e in made])
    EntryPerson.objects.bulk_create(
        [EntryPerson(entry=entry, person=cast.cleo, minutes=20.0) for _h, entry, _e in made]
    )


def _repaired(
    cast: Cast, season: Season, number: int, found_at: dt.datetime, chance: random.Random
) -> tuple[Hazard, Entry, list[HazardEvent]]:
    ids = [UUID(int=chance.getrandbits(128)) for _n in range(6)]
    looked = found_at + chance.randrange(10, 100) * HOUR
    last = looked + chance.randrange(10, 300) * HOUR
    ends = chance.choice(("back-again", "back-again", "closed", "holding"))
    usual = {"rink": season.rink, "season": season, "grid": season.grid, "by": cast.cleo, "recorded_at": NOW}
    hazard = Hazard(
        id=ids[0], number=number, kind=chance.choice(DEFECTS), found_at=found_at, fingerprint="", state=ends, **usual
    )  # fmt: skip
    entry = Entry(
        id=ids[1], root_id=ids[1], kind="patch", started_at=found_at + HOUR, ended_at=found_at + HOUR, water_m3=0.02,
        area_m2=25.0, details={"method": chance.choice(METHODS)}, fingerprint="", **usual,
    )  # fmt: skip
    told = (("found", found_at), ("under-repair", found_at + HOUR), ("holding", looked), (ends, last))
    events = [
        HazardEvent(
            id=ids[2 + turn], hazard=hazard, state=state, at=at, by=cast.cleo, recorded_at=NOW, turn=turn + 1,
            entry=entry if state == "under-repair" else None,
        )
        for turn, (state, at) in enumerate(told)
    ]  # fmt: skip
    return hazard, entry, events
