"""A torch repair: flame on ice, never by one person alone."""

from django.utils.translation import gettext_lazy as lazy

from rinklog.work.kinds.base import Choice, Number, Words, WorkKind

TORCH_REPAIR = WorkKind(
    key="torch-repair",
    title=lazy("Torch repair"),
    icon="torch-repair",
    repairs=True,
    safety_topic="torch",
    details={
        "flame_minutes": Number(lazy("Minutes of flame"), "minutes", 0.1, 600, required=True),
        "fuel": Choice(
            lazy("Fuel"),
            {"propane": lazy("propane"), "butane": lazy("butane"), "other": lazy("other")},
            required=True,
        ),
        "fuel_kg": Number(lazy("Fuel used"), "mass", 0, 100),
        # The name travels with the entry even when the person leaves the crew.
        "second_person": Words(lazy("Second person present"), 120, required=True),
    },
)
