"""A tarp melt: a dark cover laid in the sun. The entry stays open until somebody lifts the cover."""

from django.utils.translation import gettext_lazy as lazy

from rinklog.work.kinds.base import Choice, WorkKind

RESULT = Choice(
    lazy("Result"),
    {
        "level": lazy("melted level"),
        "partly": lazy("partly melted"),
        "nothing": lazy("nothing melted"),
        "too-deep": lazy("melted too deep"),
        "frozen-fast": lazy("cover frozen fast"),
    },
    required=True,
)
"""What lifting a cover says of it; kept with the event."""

TARP_MELT = WorkKind(
    key="tarp-melt",
    title=lazy("Tarp melt"),
    icon="tarp-melt",
    repairs=True,
    stays_open=True,
    details={
        "cover": Choice(
            lazy("Cover"),
            {
                "dark-tarp": lazy("dark tarp"),
                "black-plastic": lazy("black plastic sheet"),
                "rubber-mat": lazy("rubber mat"),
                "plywood": lazy("dark plywood"),
                "other": lazy("other"),
            },
            required=True,
        ),
    },
    closing=RESULT,
)
