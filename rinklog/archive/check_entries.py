"""Checking entries of an import: each by the rules of its kind, and each line of amendments as a whole."""

from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from rinklog.archive.cells import BadCell, read_number
from rinklog.archive.check_world import World, check_login, check_moment, check_place, fits, known, one_of
from rinklog.archive.columns import BY_NAME, DETAIL, ENTRY, HAZARD
from rinklog.archive.plan import Plan, Typed
from rinklog.facts import Refused
from rinklog.work.content import EntryContent
from rinklog.work.kinds import KINDS
from rinklog.work.kinds.base import Choice, Number, Yes
from rinklog.work.models import Entry

State = Entry.State
CURRENT = (State.STANDING, State.WITHDRAWN)
# Where the words of a refusal stand in the file.
COLUMN_OF = {
    "amount": "water_m3",
    "zones": "zones",
    "condition": "conditions",
    "hazards": "repairs",
    "started": "at",
    "ended": "ended_at",
}


def check_entry(plan: Plan, world: World, row: Typed) -> bool:
    """An entry that could have been recorded here."""
    return (
        one_of(plan, row, "kind", KINDS)
        and one_of(plan, row, "state", State.values)
        and fits(plan, row, "reason", 400)
        and fits(plan, row, "seen_sky", 12)
        and check_place(plan, world, row)
        and check_times(plan, world, row)
        and check_people(plan, world, row)
        and check_line(plan, world, row)
        and check_repairs(plan, world, row)
        and check_content(plan, world, row)
    )


def check_times(plan: Plan, world: World, row: Typed) -> bool:
    """It began before it ended, and not in the future."""
    if row["ended_at"] and row["ended_at"] < row["at"]:
        plan.wrong(row, "ended_at", row["ended_at"].isoformat(), _("is before it began"))
        return False
    return check_moment(plan, world, row, "at")


def check_people(plan: Plan, world: World, row: Typed) -> bool:
    """Everybody is known and has minutes."""
    people: dict[str, float] = {}
    for login, cell in row["people_minutes"].items():
        try:
            minutes = read_number(cell)
        except BadCell:
            minutes = None
        if minutes is None or minutes < 0:
            plan.wrong(row, "people_minutes", cell, _("allowed are minutes from 0 up"))
            return False
        known_as = world.who(login)
        if not check_login(plan, world, row, "people_minutes", known_as):
            return False
        people[known_as] = people.get(known_as, 0.0) + minutes
    row["people"] = people
    return check_login(plan, world, row, "by", row["by"])


def check_line(plan: Plan, world: World, row: Typed) -> bool:
    """A first entry is its own root; an amendment names an entry of the same root."""
    if row["amends"] is None:
        if row["root"] == row["id"]:
            return True
        plan.wrong(row, "root", row["root"], _("an entry that amends nothing is its own root"))
        return False
    amended = world.new(ENTRY, row["amends"])
    root = amended["root"] if amended else root_of(world, row["amends"])
    if root is None:
        plan.wrong(row, "amends", row["amends"], _("is no entry of the file or of this rink"))
        return False
    if root != row["root"] or row["amends"] == row["id"]:
        plan.wrong(row, "amends", row["amends"], _("belongs to another line of amendments"))
        return False
    return True


def root_of(world: World, id: UUID) -> UUID | None:
    """The root of an entry of this rink."""
    return Entry.objects.filter(rink=world.rink, id=id).values_list("root_id", flat=True).first()


def check_repairs(plan: Plan, world: World, row: Typed) -> bool:
    """The hazards that it worked on are known."""
    for hazard in row["repairs"]:
        if not known(world, HAZARD, hazard):
            plan.wrong(row, "repairs", hazard, _("is no hazard of the file or of this rink"))
            return False
    return True


def check_content(plan: Plan, world: World, row: Typed) -> bool:
    """The kind of work takes it as it is."""
    kind = KINDS[row["kind"]]
    try:
        row["details"] = details_of(row)
        content = content_of(world, row)
        row["details"] = kind.clean(content)
    except BadCell as error:
        plan.wrong(row, error.args[1], row[error.args[1]], error.args[0])
        return False
    except Refused as refused:
        column = COLUMN_OF.get(refused.field, DETAIL + refused.field)
        column = column if column in BY_NAME else "details_json"
        plan.wrong(row, column, row.get(column, ""), str(refused.sentence))
        return False
    return True


def details_of(row: Typed) -> dict[str, Any]:
    """The details out of their columns, typed as the kind has them. Errors: BadCell with the column."""
    known_details = KINDS[row["kind"]].details
    details: dict[str, Any] = dict(row["details_json"])
    for column, cell in row.items():
        if not column.startswith(DETAIL) or cell == "":
            continue
        key = column.removeprefix(DETAIL)
        match known_details.get(key):
            case Number():
                try:
                    details[key] = read_number(cell)
                except BadCell as error:
                    raise BadCell(str(error), column) from None
            case Choice(many=True):
                details[key] = cell.split()
            case Yes():
                details[key] = cell == "yes"
            case _:
                details[key] = cell
    return details


def content_of(world: World, row: Typed) -> EntryContent:
    """What the kind's rules look at; zones by their place in the row, since ids are given when it is written."""
    ids = {label: place for place, label in enumerate(row["zones"])}
    said = {event["hazard"]: event["state"] for event in world.happened.get(row["id"], [])}
    if stray := set(row["conditions"]) - set(ids):
        raise Refused("condition", _("“%(zone)s” has a condition and is not picked.") % {"zone": min(stray)})
    row["said_repaired"] = tuple(sorted(hazard for hazard, state in said.items() if state == "under-repair"))
    row["said_holding"] = {hazard: state for hazard, state in said.items() if state != "under-repair"}
    return EntryContent(
        started_at=row["at"],
        ended_at=row["ended_at"],
        zone_ids=tuple(ids.values()),
        conditions={ids[label]: condition for label, condition in row["conditions"].items()},
        water_m3=row["water_m3"],
        details=row["details"],
        hazard_ids=row["said_repaired"],
        holding=row["said_holding"],
    )


def check_lines(plan: Plan, world: World) -> None:
    """At most one entry of a line counts, and nothing that stands here is amended a second time."""
    rows = plan.rows(ENTRY)
    amended = {row["amends"] for row in rows if row["amends"] and row["state"] != State.UNDONE}
    current: dict[UUID, Typed] = {}
    for row in rows:
        if row["state"] in CURRENT and current.setdefault(row["root"], row) is not row:
            plan.wrong(row, "state", row["state"], _("two entries of one line of amendments count"))
        if row["state"] == State.REPLACED and row["id"] not in amended and not is_amended(row["id"]):
            plan.wrong(row, "state", row["state"], _("nothing in the file amends it"))
        if row["state"] in CURRENT and row["id"] in amended:
            plan.wrong(row, "state", row["state"], _("it is amended by another row"))
    roots = [row["root"] for row in rows if row["amends"]]
    here = Entry.objects.filter(root__in=roots, state__in=CURRENT).exclude(id__in=amended)
    for root in here.values_list("root_id", flat=True):
        if root in current:
            plan.wrong(current[root], "amends", current[root]["amends"], _("was amended here meanwhile"))


def is_amended(id: UUID) -> bool:
    """Whether an entry here amends it."""
    return Entry.objects.filter(amends_id=id).exclude(state=State.UNDONE).exists()
