"""A flood: one coat of water over zones."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.facts import Refused
from rinklog.work.content import EntryContent
from rinklog.work.kinds.base import Choice, Number, WorkKind

BY_AMOUNT, BY_METER, BY_MINUTES = "amount", "meter", "minutes"


def check(content: EntryContent) -> None:
    """A meter must not run backwards."""
    before, after = content.details.get("meter_before_m3"), content.details.get("meter_after_m3")
    if before is not None and after is not None and after < before:
        raise Refused(
            "meter_after",
            _(
                "The meter reads less after the flood than before it; give the reading after, or use the amount instead."
            ),
        )


FLOOD = WorkKind(
    key="flood",
    title=lazy("Flood"),
    icon="flood",
    takes_water=True,
    details={
        "by": Choice(
            lazy("Water by"),
            {
                BY_AMOUNT: lazy("amount"),
                BY_METER: lazy("meter readings"),
                BY_MINUTES: lazy("minutes at the hose"),
            },
            required=True,
        ),
        "meter_before_m3": Number(lazy("Meter before"), "meter", 0, 1e8),
        "meter_after_m3": Number(lazy("Meter after"), "meter", 0, 1e8),
        "hose_minutes": Number(lazy("Minutes of water"), "minutes", 0, 4320),
        "hose_flow_ls": Number(lazy("Hose flow"), "flow", 0.001, 100),
        "water": Choice(lazy("Water"), {"cold": lazy("cold"), "hot": lazy("hot")}, required=True),
        "tool": Choice(
            lazy("With"),
            {"hose": lazy("hose"), "resurfacer": lazy("resurfacer"), "tank": lazy("tank")},
            required=True,
        ),
    },
    check=check,
)
