"""What the zone picker draws: the sheet, its zones, what is picked, and quick picks."""

from collections.abc import Iterable
from typing import Any

from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Grid, Zone
from rinklog.web.rinkmap.drawing import draw, from_the_top, quick_picks

TITLES = {
    "whole": _("Whole rink"),
    "near": _("Near end"),
    "far": _("Far end"),
    "boards": _("Along the boards"),
}


def picker(grid: Grid, zones: list[Zone], picked: Iterable[int]) -> dict[str, Any]:
    """The context of rinkmap/_picker.html for a form that has a field `zones`."""
    ids = quick_picks(zones, grid)
    return {
        "drawing": draw(grid, zones),
        "zones_from_the_top": from_the_top(zones),
        "picked": set(picked),
        "picks": [{"key": key, "title": title, "ids": ids[key]} for key, title in TITLES.items()],
    }


def picked_in(form: Any) -> set[int]:
    """The zone ids a form holds, from the post or from its start."""
    return {int(item) for item in form["zones"].value() or [] if str(item).isdigit()}
