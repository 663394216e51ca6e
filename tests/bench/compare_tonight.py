"""Tonight's page from stored advice: how many queries, and its time against the rink page's."""

import datetime as dt
from typing import Any

from tests.bench.compare_home import fill, opener, prepare
from tests.bench.measure import Row, alternate, at_most, comparison

MOST_QUERIES = 15
ENTRIES = 1_000
HAZARDS, FLOODS = 8, 30


def advised(cast: Any) -> None:
    """Stored advice as a bad evening makes it: many items, windows and open hazards, and a month of judged floods."""
    from django.utils import timezone

    from rinklog.advice.models import Advice, Prediction
    from rinklog.advice.repair import Sunlit, ways
    from rinklog.advice.rules import advice
    from rinklog.work.models import Entry
    from tests.advice.scene import exactly, hazard, scene, window, zone
    from tests.support.hazards import put_up

    now = timezone.now()
    hour = dt.timedelta(hours=1)
    found = [put_up(cast, now=now - 4 * 24 * hour, x_m=2.0 + n) for n in range(HAZARDS)]
    open_ones = tuple(
        hazard(id=str(one.id), number=one.number, found_at=now - 4 * 24 * hour) for one in found
    )
    curve = tuple((mm, mm / 2, mm, mm * 1.5, 0.9) for mm in (1.0, 2.0, 4.0, 8.0))
    windows = [
        window(id=f"w{n}", starts_at=now + (n + 1) * 20 * hour, curve=curve, spoilers=("wind", "sun"))
        for n in range(4)
    ]
    snowed = tuple(zone(n, snow_m=exactly(0.04), wears=True) for n in range(9))
    said = advice(scene(zones=snowed, hazards=open_ones, windows=tuple(windows)))
    Advice.objects.create(
        rink=cast.rink,
        made_at=now,
        fingerprint="",
        items=[item.to_json() for item in said],
        windows=[one.to_json() for one in windows],
        repairs={one.id: [way.to_json() for way in ways(one, Sunlit({}), [])] for one in open_ones},
        told={"forecast_made_at": now.isoformat(), "source": "met-norway", "missing": ""},
    )
    floods = Entry.objects.filter(rink=cast.rink, kind="flood").order_by("-started_at")[:FLOODS]
    Prediction.objects.bulk_create(
        Prediction(
            root=flood, rink=cast.rink, made_at=flood.started_at - hour, recorded_at=flood.started_at, coat_mm=4.0,
            began_at=flood.started_at, window=windows[0].to_json(), low_h=2.0, middle_h=3.0, high_h=4.0,
            chance=0.9, deadline_at=flood.started_at + 12 * hour,
        )
        for flood in floods
    )  # fmt: skip


def page_of(cast: Any) -> Any:
    """A call that opens the Tonight page."""
    from django.test import Client

    client = Client()
    client.force_login(cast.ada)

    def opened() -> None:
        answer = client.get(f"/r/{cast.rink.slug}/tonight/")
        assert answer.status_code == 200, answer.status_code

    return opened


@comparison("tonight-queries")
def tonight_queries() -> Row:
    """How many queries the page asks, against the limit."""
    cast, _settings = prepare()
    fill(cast.rink, cast.ada, ENTRIES)  # type: ignore[attr-defined]
    advised(cast)
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    opened = page_of(cast)
    opened()
    with CaptureQueriesContext(connection) as context:
        opened()
    return at_most("tonight-queries", len(context), MOST_QUERIES, times=1, unit="queries")


@comparison("tonight-page")
def tonight_page() -> Row:
    """The page against the rink page of the same rink."""
    cast, _settings = prepare()
    fill(cast.rink, cast.ada, ENTRIES)  # type: ignore[attr-defined]
    advised(cast)
    home = opener(cast.ada, cast.rink)  # type: ignore[attr-defined]
    ours, against = alternate(page_of(cast), home, rounds=30, warm=3)  # type: ignore[arg-type]
    return at_most("tonight-page", ours * 1000, against * 1000, times=2, unit="ms", note=f"{HAZARDS} hazards")
