"""Every calculator by name, and the groups the set-up pages show them in."""

from __future__ import annotations

from rinklog.calculators import cold, freezing, snow_drift, tools, water
from rinklog.calculators.declare import Calculator, Group

GROUPS: tuple[Group, ...] = (freezing.GROUP, cold.GROUP, snow_drift.GROUP, water.GROUP, tools.GROUP)
CALCULATORS: dict[str, Calculator] = {c.name: c for group in GROUPS for c in group.calculators}


def group_of(name: str) -> Group:
    """The group a calculator belongs to. Arguments: name. Returns: Group. Errors: KeyError."""
    for group in GROUPS:
        if any(c.name == name for c in group.calculators):
            return group
    raise KeyError(name)
