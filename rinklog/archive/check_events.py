"""Checking what happened to entries later."""

from django.utils.translation import gettext as _

from rinklog.archive.check_world import World, check_login, check_moment, fits, known, one_of
from rinklog.archive.columns import ENTRY
from rinklog.archive.plan import Plan, Typed
from rinklog.work.models import EntryEvent

What = EntryEvent.What
ONCE = (What.SET, What.FROZEN, What.LIFTED, What.WITHDRAWN)


def check_event(plan: Plan, world: World, row: Typed) -> bool:
    """An event of an entry that is known, and of which there is no other."""
    if not known(world, ENTRY, row["entry"]):
        plan.wrong(row, "entry", row["entry"], _("is no entry of the file or of this rink"))
        return False
    return (
        one_of(plan, row, "state", What.values)
        and fits(plan, row, "reason", 400)
        and check_moment(plan, world, row, "at")
        and check_login(plan, world, row, "by", row["by"])
        and check_once(plan, world, row)
    )


def check_once(plan: Plan, world: World, row: Typed) -> bool:
    """An entry is set, frozen, lifted and withdrawn at most once, unless it was taken back."""
    if row["state"] not in ONCE or row["undone_at"]:
        return True
    key = (row["entry"], row["state"])
    same = EntryEvent.objects.filter(root_id=row["entry"], what=row["state"], undone_at=None)
    if key in world.said or same.exists():
        plan.wrong(row, "state", row["state"], _("was said of this entry already"))
        return False
    world.said.add(key)
    return True
