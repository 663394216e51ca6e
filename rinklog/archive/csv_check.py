"""Checking an import row by row against the rink, without writing anything."""

import datetime as dt
from collections.abc import Callable, Iterable
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from rinklog.archive import csv_out
from rinklog.archive.cells import BadCell
from rinklog.archive.check_entries import check_entry, check_lines
from rinklog.archive.check_events import check_event
from rinklog.archive.check_hazards import check_hazard, check_hazard_event
from rinklog.archive.check_world import World, check_person, check_season
from rinklog.archive.columns import BY_NAME, COLUMNS, ENTRY, EVENT, HAZARD, HAZARD_EVENT, PERSON, SEASON
from rinklog.archive.csv_read import Problem, Table
from rinklog.archive.plan import Plan, Typed
from rinklog.rink.models import Rink
from rinklog.work.models import Entry, EntryEvent, Hazard, HazardEvent

Progress = Callable[[int, int], None]
STEP = 250
# What moves after a row was recorded, or is worked out here: no reason to call a row another one.
MOVES = {"state", "area_m2", "cone_out", "cone_number", "undone_at", "number", "turn", "repairs", "row"}
SAME: dict[str, tuple[Any, Callable[[Rink], Any], Callable[[Any], dict[str, str]]]] = {
    HAZARD: (Hazard, csv_out.hazards, csv_out.hazard_row),
    ENTRY: (Entry, csv_out.entries, csv_out.entry_row),
    EVENT: (EntryEvent, csv_out.events, csv_out.event_row),
    HAZARD_EVENT: (HazardEvent, csv_out.hazard_events, csv_out.hazard_event_row),
}


def check(
    table: Table,
    rink: Rink,
    *,
    now: dt.datetime,
    who: dict[str, str] | None = None,
    progress: Progress = lambda done, total: None,
) -> Plan:
    """Say what importing a table would do. `who` maps logins of the file to logins of the crew."""
    plan = Plan(problems=list(table.problems), notes=list(table.notes))
    typed: dict[str, list[Any]] = {
        record: [] for record in (PERSON, SEASON, HAZARD, ENTRY, EVENT, HAZARD_EVENT)
    }
    for number, row in table.rows:
        if found := read_row(plan, table, number, row):
            typed[row["record"]].append(found)
    world = World.of(rink, who or {}, now)
    for row in typed[PERSON]:
        check_person(plan, world, row)
    for row in typed[SEASON]:
        check_season(plan, world, row)
    fresh = {record: only_new(plan, world, record, typed[record]) for record in SAME}
    world.know(fresh)
    total, done = sum(map(len, fresh.values())), 0
    checks = {HAZARD: check_hazard, ENTRY: check_entry, EVENT: check_event, HAZARD_EVENT: check_hazard_event}
    for record, check_one in checks.items():
        for row in fresh[record]:
            if check_one(plan, world, row):
                plan.add(record, row)
            done += 1
            if done % STEP == 0:
                progress(done, total)
    check_lines(plan, world)
    progress(total, total)
    plan.problems.sort(key=lambda problem: problem.row)
    plan.strangers = sorted(world.strangers)
    return plan


def read_row(plan: Plan, table: Table, number: int, row: dict[str, str]) -> Typed | None:
    """The values of a row, or None when a cell cannot be read or a needed one is empty."""
    typed: Typed = {"row": number}
    before = len(plan.problems)
    for column in COLUMNS:
        cell = row.get(column.name, "")
        if column.is_number and table.decimal_comma:
            cell = cell.replace(",", ".")
        try:
            typed[column.name] = column.read(cell)
        except BadCell as error:
            plan.problems.append(Problem(number, column.name, cell[:200], str(error)))
        else:
            if not cell and row["record"] in column.needed:
                reason = _("is empty; a row of “%(record)s” needs it") % {"record": row["record"]}
                plan.problems.append(Problem(number, column.name, "", reason))
    return typed if len(plan.problems) == before else None


def only_new(plan: Plan, world: World, record: str, rows: list[Typed]) -> list[Typed]:
    """The rows whose ids are not here; those that are here with other content, or twice in the file, are wrong."""
    fresh, seen = [], set()
    existing = already_here(world.rink, record, [row["id"] for row in rows])
    for row in rows:
        row["by"] = world.who(row["by"])
        if row["id"] in seen:
            plan.wrong(row, "id", row["id"], _("is in the file twice"))
        elif row["id"] not in existing:
            fresh.append(row)
        elif is_same(world, row, existing[row["id"]]):
            plan.here[record] += 1
        else:
            plan.wrong(row, "id", row["id"], _("is recorded already, with other content"))
        seen.add(row["id"])
    return fresh


def already_here(rink: Rink, record: str, ids: list[UUID]) -> dict[UUID, dict[str, str] | None]:
    """The rows with these ids as this site would write them; None for one that is not this rink's."""
    model, query, row_of = SAME[record]
    found: dict[UUID, dict[str, str] | None] = {}
    for some in pieces(ids, 400):
        found |= dict.fromkeys(model.objects.filter(id__in=some).values_list("id", flat=True))
        found |= {one.id: row_of(one) for one in query(rink).filter(id__in=some)}
    return found


def pieces(values: list[Any], size: int) -> Iterable[list[Any]]:
    """The values, some at a time."""
    return (values[start : start + size] for start in range(0, len(values), size))


def is_same(world: World, row: Typed, existing: dict[str, str] | None) -> bool:
    """Whether a row of the file says what is recorded already, but for what moves."""
    if existing is None:
        return False
    for name, column in BY_NAME.items():
        if name in MOVES or name == "record":
            continue
        mine = row.get(name)
        if name == "people_minutes":
            mine = {world.who(login): float(minutes) for login, minutes in (mine or {}).items()}
            if mine != {login: float(m) for login, m in column.read(existing.get(name, "")).items()}:
                return False
        elif mine != column.read(existing.get(name, "")):
            return False
    return True
