"""The rink page: how many queries, and what a season of 100,000 entries costs it."""

import datetime as dt
import os
from uuid import UUID, uuid4

from tests.bench.measure import Row, alternate, at_most, comparison
from tests.bench.one import database

MOST_QUERIES = 12
FEW, MANY = 1_000, 100_000
KINDS = ("flood", "snow-removal", "patch", "inspection", "drill-hole", "tarp-melt")
BATCH = 5_000


def prepare() -> tuple[object, object]:
    """An empty site with the cast of the tests: Ada's little rink, Rut's rink beside it."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.bench.settings"
    database()
    from django.conf import settings

    from tests.support.cast import make_cast

    settings.ALLOWED_HOSTS = ["*"]
    return make_cast(), settings


def fill(rink: object, by: object, entries: int) -> None:
    """A season's log: two zones and one person an entry; of a hundred covers one still lies, floods are called set."""
    from rinklog.rink.queries import zones
    from rinklog.work.models import Entry, EntryEvent, EntryPerson, EntryZone

    season = rink.seasons.get()  # type: ignore[attr-defined]
    grid = zones(season.grid)[:2]
    now = dt.datetime.now(dt.UTC)
    step = dt.timedelta(days=150) / entries
    for first in range(0, entries, BATCH):
        rows = [
            entry_row(Entry, rink, season, by, KINDS[n % len(KINDS)], now - (n + 1) * step, n)
            for n in range(first, min(first + BATCH, entries))
        ]
        Entry.objects.bulk_create(rows)
        EntryZone.objects.bulk_create(
            EntryZone(entry=row, zone=zone, area_m2=zone.area_m2) for row in rows for zone in grid
        )
        EntryPerson.objects.bulk_create(EntryPerson(entry=row, person=by, minutes=30) for row in rows)
        EntryEvent.objects.bulk_create(
            EntryEvent(id=uuid4(), root=row, what="set", at=row.started_at, by=by, recorded_at=now)
            for row in rows
            if row.kind == "flood"
        )


def entry_row(
    model: type, rink: object, season: object, by: object, kind: str, at: dt.datetime, n: int
) -> object:
    """One entry; the two latest covers of each rink still lie."""
    id: UUID = uuid4()
    return model(
        id=id,
        root_id=id,
        rink=rink,
        season=season,
        grid=season.grid,  # type: ignore[attr-defined]
        kind=kind,
        started_at=at,
        by=by,
        recorded_at=at,
        water_m3=0.4 if kind == "flood" else None,
        area_m2=50.0,
        is_open=kind == "tarp-melt" and n < 2 * len(KINDS),
        fingerprint="",
    )


def opener(person: object, rink: object) -> object:
    """A call that opens the rink page."""
    from django.test import Client

    client = Client()
    client.force_login(person)  # type: ignore[arg-type]

    def opened() -> None:
        answer = client.get(f"/r/{rink.slug}/")  # type: ignore[attr-defined]
        assert answer.status_code == 200, answer.status_code

    return opened


@comparison("home-queries")
def home_queries() -> Row:
    """How many queries home asks of a full season, against the limit."""
    cast, _settings = prepare()
    fill(cast.rink, cast.ada, FEW)  # type: ignore[attr-defined]
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    opened = opener(cast.ada, cast.rink)  # type: ignore[attr-defined]
    opened()  # type: ignore[operator]
    with CaptureQueriesContext(connection) as context:
        opened()  # type: ignore[operator]
    return at_most("home-queries", len(context), MOST_QUERIES, times=1, unit="queries")


@comparison("home-growth")
def home_growth() -> Row:
    """Home of a rink with 100,000 entries in a season against home of one with 1,000, in one database."""
    cast, _settings = prepare()
    fill(cast.rink, cast.ada, MANY)  # type: ignore[attr-defined]
    fill(cast.other_rink, cast.rut, FEW)  # type: ignore[attr-defined]
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    many, few = opener(cast.ada, cast.rink), opener(cast.rut, cast.other_rink)  # type: ignore[attr-defined]
    ours, against = alternate(many, few, rounds=60, warm=5)  # type: ignore[arg-type]
    return at_most(
        "home-growth", ours * 1000, against * 1000, times=1.3, unit="ms", note=f"{MANY} against {FEW}"
    )
