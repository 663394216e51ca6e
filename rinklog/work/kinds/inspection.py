"""An inspection: what the ice is like zone by zone, and whether repairs hold. It costs no water."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.work.content import EntryContent
from rinklog.work.errors import Refused
from rinklog.work.kinds.base import WorkKind
from rinklog.work.models import Hazard

CONDITIONS = {
    "good": lazy("good"),
    "rough": lazy("rough"),
    "worn": lazy("worn"),
    "cracked": lazy("cracked"),
    "snow": lazy("snow on it"),
    "wet": lazy("wet or slush"),
    "shell-ice": lazy("shell ice"),
    "thin": lazy("thin or soft"),
}
JUDGEMENTS = {
    Hazard.State.HOLDING.value: lazy("holding"),
    Hazard.State.BACK_AGAIN.value: lazy("back again"),
}


def check(content: EntryContent) -> None:
    """Something was looked at, and each zone has a condition out of the list."""
    if not content.zone_ids and not content.holding:
        raise Refused("zones", _("Pick at least one zone or judge a repair: nothing was looked at."))
    for condition in content.conditions.values():
        if condition not in CONDITIONS:
            raise Refused(
                "condition",
                _("The condition is “%(value)s”; allowed are %(allowed)s.")
                % {"value": condition, "allowed": ", ".join(CONDITIONS)},
            )
    if set(content.zone_ids) != set(content.conditions):
        raise Refused("condition", _("The condition is empty; choose one for the picked zones."))
    for judgement in content.holding.values():
        if judgement not in JUDGEMENTS:
            raise Refused(
                "hazards",
                _("A repair is “%(value)s”; allowed are %(allowed)s.")
                % {"value": judgement, "allowed": ", ".join(JUDGEMENTS)},
            )


INSPECTION = WorkKind(
    key="inspection",
    title=lazy("Inspection"),
    icon="inspection",
    needs_zones=False,
    judges=True,
    check=check,
)
