"""The lists of autumn and spring, in order, with what holds a task up."""

import datetime as dt
from dataclasses import dataclass
from uuid import UUID

from rinklog.rink.models import Rink, Season
from rinklog.site.forecast_dates import Suits
from rinklog.site.models import SiteTask
from rinklog.site.order import in_order

SOON = dt.timedelta(days=3)


@dataclass(frozen=True)
class Standing:
    """A task as it stands: what it still waits for, and the day it is for."""

    task: SiteTask
    waits_for: list[SiteTask]
    suits: Suits | None
    on: dt.date | None
    state: str  # done, waits, late, soon or open

    @property
    def people(self) -> list[str]:
        """Who does it."""
        return [one.name for one in self.task.people.all()]


def tasks(season: Season, list: str) -> "list[SiteTask]":
    """The tasks of a list as they were written. Three queries."""
    rows = SiteTask.objects.filter(season=season, list=list).select_related("done_by")
    return [*rows.prefetch_related("needs", "people")]


def task(rink: Rink, id: UUID) -> SiteTask | None:
    """One task of a rink."""
    return SiteTask.objects.select_related("season", "done_by").filter(season__rink=rink, id=id).first()


def standings(season: Season, name: str, found: dict[str, Suits], today: dt.date) -> list[Standing]:
    """A list in the order of doing, each task with what it waits for and its day. Three queries."""
    rows = {one.id: one for one in tasks(season, name)}
    needs = {one.id: {other.id for other in one.needs.all()} for one in rows.values()}
    return [_standing(rows[id], rows, needs, found, today) for id in in_order([*rows], needs)]


def _standing(
    task: SiteTask,
    rows: dict[UUID, SiteTask],
    needs: dict[UUID, set[UUID]],
    found: dict[str, Suits],
    today: dt.date,
) -> Standing:
    waits = [rows[id] for id in rows if id in needs[task.id] and rows[id].done_on is None]
    suit = None if task.done_on else found.get(task.when)
    on = task.due_on or (suit.on if suit else None)
    return Standing(task, waits, suit, on, _state(task, bool(waits), on, today))


def _state(task: SiteTask, waits: bool, on: dt.date | None, today: dt.date) -> str:
    if task.done_on:
        return "done"
    if on is not None and on < today:
        return "late"
    if on is not None and on - today <= SOON:
        return "soon"
    return "waits" if waits else "open"


def undone(season: Season, name: str) -> int:
    """How many tasks of a list are still to do."""
    return SiteTask.objects.filter(season=season, list=name, done_on=None).count()


def season_for(rink: Rink, shown: Season, name: str) -> Season:
    """The season a list belongs to: set-up goes to the next season once the one that is shown was closed."""
    if name != SiteTask.List.SET_UP or shown.closed_at is None:
        return shown
    later = Season.objects.select_related("grid").filter(rink=rink, starts_on__gt=shown.starts_on)
    return later.order_by("starts_on").first() or shown
