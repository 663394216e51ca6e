"""Hazards for tests."""

import datetime as dt
from uuid import UUID, uuid4

from rinklog.crew.models import Person
from rinklog.work.hazards import HazardContent, record_hazard
from rinklog.work.models import Hazard
from tests.support.cast import NOW, Cast


def put_up(
    cast: Cast, *, by: Person | None = None, id: UUID | None = None, now: dt.datetime = NOW, **content: object
) -> Hazard:
    """Record a bump at x 12 m, y 7 m (zone C2 of 8 x 4 zones on 40 m x 20 m), or as told."""
    values: dict[str, object] = {"kind": "bump", "found_at": now, "x_m": 12.0, "y_m": 7.0}
    return record_hazard(
        id=id or uuid4(),
        rink=cast.rink,
        content=HazardContent(**(values | content)),  # type: ignore[arg-type]
        by=by or cast.cleo,
        now=now,
        local_day=now.date(),
    ).hazard
