"""What the pages of the logbook show beside the form: the sheet to pick zones from, the coat, the cautions."""

from typing import Any

from django.utils.translation import gettext_lazy as lazy

from rinklog.rink.queries import rule_value
from rinklog.web.access import At
from rinklog.web.logbook.cautions import CAUTIONS
from rinklog.web.logbook.filling import picks
from rinklog.web.logbook.forms import WorkForm
from rinklog.web.rinkmap.drawing import draw, from_the_top
from rinklog.work.kinds import KINDS

PICK_TITLES = {
    "last": lazy("Last used"),
    "whole": lazy("Whole rink"),
    "near": lazy("Near end"),
    "far": lazy("Far end"),
    "boards": lazy("Along the boards"),
}


def form_context(at: At, form: WorkForm) -> dict[str, Any]:
    """What a form page needs."""
    context: dict[str, Any] = {
        "form": form,
        "kind": KINDS[form.kind],
        "kind_template": f"logbook/_{form.kind.replace('-', '_')}.html",
        "cautions": CAUTIONS.get(form.kind, ()),
    }
    context |= picker_context(at, form)
    if form.kind == "flood":
        context |= coat_context(at, form)
    return context


def picker_context(at: At, form: WorkForm) -> dict[str, Any]:
    """What the zone picker draws: the sheet, its zones, and the quick picks."""
    ids = picks(at, form)
    return {
        "drawing": draw(form.grid, form.grid_zones),
        "zones_from_the_top": from_the_top(form.grid_zones),
        "picked": form.picked_zones(),
        "marks": form.marks() if hasattr(form, "marks") else {},
        "picks": [
            {"key": key, "title": PICK_TITLES[key], "ids": ids[key]} for key in PICK_TITLES if key in ids
        ],
    }


def coat_context(at: At, form: Any) -> dict[str, Any]:
    """Water, area and coat of the flood in the form, and whether the crew calls that too thick."""
    water_m3 = form.water_so_far()
    area_m2 = form.area_m2()
    coat_m = water_m3 / area_m2 if water_m3 and area_m2 else None
    thickest_m = rule_value(at.rink, "coat_thickest_m")
    return {
        "water_m3": water_m3,
        "area_m2": area_m2,
        "coat_m": coat_m,
        "thickest_m": thickest_m,
        "too_thick": coat_m is not None and coat_m > thickest_m,
    }
