"""Which work in the log makes a recurring date done: an entry of that kind in its span. Nobody ticks anything."""

from dataclasses import dataclass

from rinklog.plan.models import RecurringTask
from rinklog.records.models import ChecklistItem
from rinklog.work.models import Kind

Round, List = RecurringTask.Round, ChecklistItem.List


@dataclass(frozen=True)
class Deed:
    """What counts as having done it: kinds of entries, and checklists gone through."""

    kinds: tuple[str, ...] = ()
    lists: tuple[str, ...] = ()


DEEDS: dict[str, Deed] = {
    Round.RESURFACING: Deed((Kind.FLOOD,)),
    Round.SNOW_CHECK: Deed((Kind.SNOW_REMOVAL, Kind.INSPECTION), (List.WALK,)),
    Round.HAZARD_ROUND: Deed((Kind.INSPECTION,), (List.WALK,)),
    Round.DRILL_ROUND: Deed((Kind.DRILL_HOLE,)),
    Round.MACHINE_CHECK: Deed((), (List.MACHINES,)),
    Round.SNOW_REMOVAL: Deed((Kind.SNOW_REMOVAL,)),
    Round.FLOOD: Deed((Kind.FLOOD,)),
    Round.PATCH: Deed((Kind.PATCH,)),
    Round.INSPECTION: Deed((Kind.INSPECTION,)),
}
