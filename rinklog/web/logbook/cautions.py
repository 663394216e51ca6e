"""The usual cautions, shown where the work is written down. Common practice; local codes and licensed practice first."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

MACHINES = lazy(
    "A tractor or resurfacer goes on the ice only when its thickness was measured and is enough for it."
)
LOCAL_CODES = lazy("Local codes and licensed practice come first.")

CAUTIONS: dict[str, tuple[str | Promise, ...]] = {
    "flood": (
        lazy("Keep pumps and heaters on protected outdoor circuits and their connections out of the wet."),
        MACHINES,
    ),
    "snow-removal": (MACHINES,),
    "patch": (lazy("Hot water scalds, and wet ice is slippery: carry it low, one bucket at a time."),),
    "torch-repair": (
        lazy("Trained adults only, and two of them present from first flame to last."),
        lazy("Stay clear of the liner, the boards and the netting."),
        lazy("A fire extinguisher stands at hand."),
        lazy("Never indoors, never under a roof."),
        LOCAL_CODES,
    ),
    "tarp-melt": (
        lazy("Keep skaters off, set cones, and weigh the cover down: wind takes it and people trip on it."),
    ),
    "drill-hole": (
        lazy(
            "Do not walk out on ice you have not tested, and never alone; mark the hole until it has frozen."
        ),
        lazy(
            "A measurement does not open the rink: a person decides, and over standing or deep water the "
            "published guidance and local codes come first."
        ),
    ),
}
