"""Checking hazards of an import, and what happened to them."""

from django.utils.translation import gettext as _

from rinklog.archive.check_world import World, check_login, check_moment, check_place, fits, known, one_of
from rinklog.archive.columns import ENTRY, HAZARD
from rinklog.archive.plan import Plan, Typed
from rinklog.work.cones import HIGHEST
from rinklog.work.models import Hazard


def check_hazard(plan: Plan, world: World, row: Typed) -> bool:
    """A hazard that could have been recorded here."""
    return (
        one_of(plan, row, "kind", Hazard.Kind.values)
        and one_of(plan, row, "severity", Hazard.Severity.values)
        and one_of(plan, row, "state", Hazard.State.values)
        and check_place(plan, world, row)
        and check_point(plan, world, row)
        and check_cone(plan, row)
        and check_moment(plan, world, row, "at")
        and check_login(plan, world, row, "by", row["by"])
    )


def check_point(plan: Plan, world: World, row: Typed) -> bool:
    """The point is whole and on the rink."""
    x_m, y_m = row["x_m"], row["y_m"]
    shape = world.shape(row["grid"])
    assert shape is not None
    if x_m is None and y_m is None:
        return True
    if x_m is None or y_m is None:
        plan.wrong(row, "x_m", x_m, _("a point has both x_m and y_m, or neither"))
        return False
    if not (0 <= x_m <= shape.length_m and 0 <= y_m <= shape.width_m):
        plan.wrong(row, "x_m", f"{x_m} {y_m}", _("the point is off the rink"))
        return False
    return True


def check_cone(plan: Plan, row: Typed) -> bool:
    """A number that a cone can have, or none."""
    number = row["cone_number"]
    if number is None or 1 <= number <= HIGHEST:
        return True
    sentence = _("The cone's number is %(number)d; allowed is 1 to %(highest)d.")
    plan.wrong(row, "cone_number", number, sentence % {"number": number, "highest": HIGHEST})
    return False


def check_hazard_event(plan: Plan, world: World, row: Typed) -> bool:
    """Something that happened to a hazard which is known, by an entry which is known."""
    if not known(world, HAZARD, row["hazard"]):
        plan.wrong(row, "hazard", row["hazard"], _("is no hazard of the file or of this rink"))
        return False
    if row["entry"] and not known(world, ENTRY, row["entry"]):
        plan.wrong(row, "entry", row["entry"], _("is no entry of the file or of this rink"))
        return False
    return (
        one_of(plan, row, "state", Hazard.State.values)
        and fits(plan, row, "note", 400)
        and check_cone(plan, row)
        and check_moment(plan, world, row, "at")
        and check_login(plan, world, row, "by", row["by"])
    )
