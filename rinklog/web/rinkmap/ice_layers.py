"""The layers of the ice estimate: a number in every zone, a step that supports it, a legend in the person's units."""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.ice.summing import Estimate, ZoneIce
from rinklog.rink.models import Zone
from rinklog.web.measures import Units, bare, show, unit_text

ICE_TITLES: dict[str, str | Promise] = {
    "thickness": lazy("Thickness"),
    "wet": lazy("Wet"),
    "lying-snow": lazy("Snow that lies"),
    "uncertainty": lazy("Uncertainty"),
}
FROZEN_M = 0.0005
"""Less water than half a millimetre is no wet coat."""
WET_M = 0.003
THIN_SNOW_M = 0.005
SURE_M, UNSURE_M = 0.010, 0.030
"""Width of the 80 % band. Common practice, no source: a finger's width is sure enough to plan a coat, an inch is not."""
SPARE = 1.5
"""Less than half as much again as the rule asks is little to spare. Common practice, no source."""
NOTHING_STEP = 3


@dataclass(frozen=True)
class Rules:
    """The rink's own rules that the steps follow [m]: least ice for skaters, for machines, snow for machines."""

    skate_m: float
    machine_m: float
    snow_m: float


@dataclass(frozen=True)
class IceRow:
    """One zone of the estimate, for map and table."""

    zone: Zone
    ice: ZoneIce | None
    step: int
    text: str


def ice_rows(
    zones: list[Zone], estimate: Estimate | None, layer: str, rules: Rules, units: Units
) -> list[IceRow]:
    """Every zone with its number in one layer; a dash where there is no estimate.

    The step of thickness follows the low end of the band: a zone that may be thin is shown as thin.
    """
    found = []
    for zone in zones:
        ice = estimate.zones.get(zone.id) if estimate else None
        if ice is None:
            found.append(IceRow(zone, None, NOTHING_STEP, "–"))
            continue
        value = value_of(ice, layer)
        least = ice.thickness_m.low if layer == "thickness" else value
        found.append(IceRow(zone, ice, step_of(least, layer, rules), bare(value, quantity_of(layer), units)))
    return found


def quantity_of(layer: str) -> str:
    """How a layer's number is written: a wet coat is told finer than ice or snow."""
    return "coat" if layer == "wet" else "depth"


def value_of(ice: ZoneIce, layer: str) -> float:
    """The layer's number of a zone [m]: the middle of its band, or the width of the band of thickness."""
    if layer == "uncertainty":
        return ice.thickness_m.high - ice.thickness_m.low
    return {"thickness": ice.thickness_m, "wet": ice.wet_top_m, "lying-snow": ice.snow_m}[layer].middle


def bounds(layer: str, rules: Rules) -> tuple[float, float]:
    """The two bounds between a layer's three steps [m], the lower first."""
    return {
        "thickness": (rules.skate_m, max(rules.machine_m, SPARE * rules.skate_m)),
        "wet": (FROZEN_M, WET_M),
        "lying-snow": (THIN_SNOW_M, max(rules.snow_m, THIN_SNOW_M)),
        "uncertainty": (SURE_M, UNSURE_M),
    }[layer]


def step_of(value: float, layer: str, rules: Rules) -> int:
    """0 is plain, 2 wants attention: thin ice, much water, much snow, a wide band."""
    low, high = bounds(layer, rules)
    step = 0 if value < low else 1 if value < high else 2
    return 2 - step if layer == "thickness" else step


def ice_legend(layer: str, rules: Rules, units: Units) -> list[str]:
    """What the steps mean, from 0 to 3, with the numbers that they stand for."""
    quantity = quantity_of(layer)
    low, high = (show(one, quantity, units) for one in bounds(layer, rules))
    said = {"low": low, "high": high}
    if layer == "thickness":
        steps = [
            _("%(high)s or more: still to be drilled") % said,
            _("from %(low)s to %(high)s: little to spare") % said,
            _("thinner than %(low)s: keep off") % said,
        ]
    elif layer == "uncertainty":
        steps = [
            _("80 in 100 within less than %(low)s") % said,
            _("within %(low)s to %(high)s") % said,
            _("within %(high)s or more: drill there") % said,
        ]
    else:
        steps = [
            _("under %(low)s") % said,
            _("from %(low)s to %(high)s") % said,
            _("%(high)s or more") % said,
        ]
    return [*steps, _("–: no estimate")]


def unit_sentence(layer: str, units: Units) -> str:
    """What the numbers on the map are."""
    said = {"unit": unit_text(quantity_of(layer), units)}
    return {
        "thickness": _(
            "Numbers: estimated ice in %(unit)s, the middle of what is likely. The shade follows the low end."
        ),
        "wet": _("Numbers: estimated water and slush on the ice in %(unit)s."),
        "lying-snow": _("Numbers: estimated snow on the ice in %(unit)s."),
        "uncertainty": _("Numbers: how far apart the likely thicknesses lie, in %(unit)s."),
    }[layer] % said
