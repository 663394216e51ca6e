"""A flood: one coat of water over zones, measured in one of three ways."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.facts import Refused
from rinklog.work.content import EntryContent
from rinklog.work.kinds.base import Choice, Number, WorkKind

BY_AMOUNT, BY_METER, BY_MINUTES = "amount", "meter", "minutes"
ROLLED_OVER, REPLACED = "rolled-over", "replaced"

# What each way of measuring needs; a changed meter needs more.
NEEDS: dict[str, tuple[str, ...]] = {
    BY_AMOUNT: (),
    BY_METER: ("meter_before_m3", "meter_after_m3"),
    BY_MINUTES: ("hose_minutes", "hose_flow_ls"),
    ROLLED_OVER: ("meter_rolls_at_m3",),
    REPLACED: ("meter_old_end_m3", "meter_new_start_m3"),
}
ROUNDING_M3 = 0.01  # minutes and readings are written down rounded


def water_m3(details: Mapping[str, Any]) -> float | None:
    """Water [m³] out of meter readings or out of minutes at a flow; None by amount, or while a number is missing."""
    way, change = details.get("by"), details.get("meter_change") or ""
    needed = NEEDS.get(str(way), ()) + (NEEDS.get(change, ()) if way == BY_METER else ())
    if way == BY_AMOUNT or not needed or any(details.get(name) is None for name in needed):
        return None
    if way == BY_MINUTES:
        return details["hose_minutes"] * 60 * details["hose_flow_ls"] / 1000
    return round(_by_meter(details, change), 9)


def _by_meter(details: Mapping[str, Any], change: str) -> float:
    before, after = details["meter_before_m3"], details["meter_after_m3"]
    if change == ROLLED_OVER:
        return details["meter_rolls_at_m3"] - before + after
    if change == REPLACED:
        return details["meter_old_end_m3"] - before + after - details["meter_new_start_m3"]
    return after - before


def check(content: EntryContent) -> None:
    """A flood has water, and the amount is the one that its readings give."""
    details = content.details
    water = water_m3(details)
    if water is not None and water < 0:
        raise Refused(
            "meter_after_m3",
            _(
                "The meter reads less after the flood than before it; "
                "allowed is the same or more, unless it rolled over or was replaced."
            ),
        )
    if content.water_m3 is None:
        raise Refused("amount", _("Water is empty; a flood needs an amount, readings or minutes."))
    if water is not None and abs(water - content.water_m3) > ROUNDING_M3:
        raise Refused("amount", _("The amount of water is not what the readings give."))


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
        "meter_unit": Choice(lazy("Meter counts"), {"m3": lazy("m³"), "gal": lazy("US gallons")}),
        "meter_before_m3": Number(lazy("Meter before"), "meter", 0, 1e8),
        "meter_after_m3": Number(lazy("Meter after"), "meter", 0, 1e8),
        "meter_change": Choice(
            lazy("The meter"),
            {ROLLED_OVER: lazy("rolled over to zero"), REPLACED: lazy("was replaced")},
        ),
        "meter_rolls_at_m3": Number(lazy("Rolls over at"), "meter", 1e-3, 1e8),
        "meter_old_end_m3": Number(lazy("Old meter, last reading"), "meter", 0, 1e8),
        "meter_new_start_m3": Number(lazy("New meter, first reading"), "meter", 0, 1e8),
        "hose_minutes": Number(lazy("Minutes of water"), "minutes", 0, 4320),
        "hose_flow_ls": Number(lazy("Hose flow"), "flow", 0.001, 100),
        "water": Choice(lazy("Hot or cold"), {"cold": lazy("cold"), "hot": lazy("hot")}, required=True),
        "tool": Choice(
            lazy("With"),
            {"hose": lazy("hose"), "resurfacer": lazy("resurfacer"), "tank": lazy("tank")},
            required=True,
        ),
    },
    check=check,
)
