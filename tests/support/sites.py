"""Surveys, layouts, fences, lists and stores for tests."""

import datetime as dt
from uuid import UUID, uuid4

from rinklog.geometry.sheet import Lay
from rinklog.site.models import Layout, SiteTask, SnowFence, StoredItem, Survey
from rinklog.site.services.fences import FenceContent, keep_fence
from rinklog.site.services.ground import keep_layout, keep_survey
from rinklog.site.services.lists import begin_list
from rinklog.site.services.store import ItemContent, keep_item
from tests.support.cast import NOW, Cast

# A meadow of 60 m × 30 m that falls 0.30 m along its length: 5 mm a metre.
MEADOW = [[0.3, 0.3], [0.0, 0.0]]


def a_survey(cast: Cast, levels_m: list[list[float]] | None = None, id: UUID | None = None) -> Survey:
    """A survey larger than the rink."""
    return keep_survey(
        id=id or uuid4(),
        rink=cast.rink,
        levels_m=levels_m or MEADOW,
        size_m=(60.0, 30.0),
        measured_on=dt.date(2025, 10, 4),
        note="",
        by=cast.ada,
        now=NOW,
    )


def a_layout(cast: Cast, name: str = "as last year", lay: Lay | None = None) -> Layout:
    """A layout in the middle of that survey."""
    a_survey(cast)
    return keep_layout(
        id=uuid4(), rink=cast.rink, name=name, lay=lay or Lay(30.0, 15.0), by=cast.ada, now=NOW
    )


def a_list(cast: Cast, name: str = "set-up") -> dict[str, SiteTask]:
    """The usual list of the first rink's season, by key."""
    begin_list(season=cast.season, name=name, by=cast.bo, now=NOW)
    return {one.key: one for one in SiteTask.objects.filter(season=cast.season, list=name)}


def a_site_task(cast: Cast) -> SiteTask:
    """A task that comes after another."""
    return a_list(cast)["stakes"]


def a_stored_item(cast: Cast, **content: object) -> StoredItem:
    """A thing in the store: a liner as large as it must be, or as told."""
    said: dict[str, object] = {"thing": "liner", "name": "white liner", "length_m": 43.0, "width_m": 23.0}
    return keep_item(
        id=uuid4(),
        rink=cast.rink,
        content=ItemContent(**(said | content)),  # type: ignore[arg-type]
        by=cast.cleo,
        now=NOW,
        today=NOW.date(),
    )


def a_fence(cast: Cast, **content: object) -> SnowFence:
    """A fence of 1.2 m across the north-west wind, or as told."""
    said: dict[str, object] = {
        "name": "meadow fence", "wind_from_deg": 315.0, "height_m": 1.2, "length_m": 90.0, "setback_m": 42.0,
        "build": "porous",
    }  # fmt: skip
    content = said | content
    return keep_fence(
        id=uuid4(),
        rink=cast.rink,
        content=FenceContent(**content),  # type: ignore[arg-type]
        by=cast.ada,
        now=NOW,
    )
