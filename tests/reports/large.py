"""A generated season of many entries, for sums that another path adds up as well."""

import datetime as dt
import random
from uuid import UUID

from rinklog.rink.models import Season, Zone
from rinklog.work.models import Entry, EntryPerson, EntryZone
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
