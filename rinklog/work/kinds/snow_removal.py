"""Snow removal: what lay on the ice, and what took it off."""

from django.utils.translation import gettext_lazy as lazy

from rinklog.work.kinds.base import Choice, Number, WorkKind

SNOW_REMOVAL = WorkKind(
    key="snow-removal",
    title=lazy("Snow removal"),
    icon="snow-removal",
    details={
        "snow_depth_m": Number(lazy("Snow depth before"), "depth", 0, 2),
        "snow": Choice(
            lazy("Kind of snow"),
            {
                "dry-new": lazy("dry, new"),
                "wind-packed": lazy("wind-packed"),
                "wet": lazy("wet"),
                "crusted": lazy("crusted"),
                "slush": lazy("slush"),
                "frozen": lazy("frozen heaps"),
                "frost": lazy("frost"),
            },
        ),
        "tools": Choice(
            lazy("Tools"),
            {
                "shovel": lazy("shovel"),
                "scraper": lazy("scraper"),
                "powered-brush": lazy("powered brush"),
                "snow-blower": lazy("snow blower"),
                "tractor": lazy("tractor"),
                "resurfacer": lazy("resurfacer"),
            },
            required=True,
            many=True,
        ),
    },
)
