"""The form of a tarp melt: laid now; lifting it is an event."""

from rinklog.web.logbook.forms.base import chips
from rinklog.web.logbook.forms.repair import RepairForm


class TarpMeltForm(RepairForm):
    """What was laid."""

    kind = "tarp-melt"
    detail_fields = ("cover",)
    from_last = ("cover",)
    zones_from_last = False

    cover = chips("tarp-melt", "cover", initial="dark-tarp")
