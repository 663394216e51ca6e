"""A drill hole: the thickness of the ice, measured. One hole, one zone."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.work.content import EntryContent
from rinklog.work.errors import Refused
from rinklog.work.kinds.base import Number, WorkKind


def check(content: EntryContent) -> None:
    """A hole is in one place."""
    if len(content.zone_ids) != 1:
        raise Refused(
            "zones",
            _("%(count)d zones are picked; a hole is in exactly one.") % {"count": len(content.zone_ids)},
        )


DRILL_HOLE = WorkKind(
    key="drill-hole",
    title=lazy("Drill hole"),
    icon="drill-hole",
    details={
        "clear_ice_m": Number(lazy("Clear ice"), "depth", 0, 3, required=True),
        "white_ice_m": Number(lazy("White ice"), "depth", 0, 3),
        "water_below_m": Number(lazy("Water below"), "depth", 0, 50),
    },
    check=check,
)
