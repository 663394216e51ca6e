"""The words a rink starts with: condition grades and checklists, restated from published practice.

They are only a start: the keeper edits them, and what was written under old words keeps them.
"""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from rinklog.records.models import ChecklistItem

Text = str | Promise
List = ChecklistItem.List

GRADES_SOURCE = _("Naperville Park District IL, Maintenance guidelines (2023 plan), restated")
GRADES: tuple[tuple[Text, Text], ...] = (
    (
        _("excellent"),
        # xgettext:no-python-format
        _("Flaws on less than 10 % of the ice, no snow, at least 10 cm (4 in) at the thinnest hole."),
    ),
    (
        _("good"),
        # xgettext:no-python-format
        _("Flaws on 10 to 50 % of the ice, no snow."),
    ),
    (
        _("fair"),
        # xgettext:no-python-format
        _("Flaws on more than 50 % of the ice, or snow on it."),
    ),
    (_("poor"), _("Rough all over; skated on with care, where the crew has looked at it and marked it.")),
    (_("no ice to skate on"), _("Thin, wet or dangerous: closed.")),
)

CHECKLISTS_SOURCE = _(
    "Montreal and Quebec municipal recreation guide (ice, boards, paths, first aid, cones, tools); Ottawa, Outdoor "
    "rink manual (building, equipment); County of Grande Prairie (formal inspections), restated; the rest is common "
    "practice, no source"
)
CHECKLISTS: dict[str, tuple[Text, ...]] = {
    List.WALK: (
        _("Ice: cracks, bumps, soft or thin spots"),
        _("Ice: thickness left"),
        _("Boards: nails, screws, splinters, gaps"),
        _("Paths, steps and entrances: ice, light"),
        _("Hanging ice on roof, boards and trees"),
        _("Hut: door, heating, carbon-monoxide alarm"),
        _("First-aid kit whole and in its place"),
        _("Cones, barriers and tape in stock"),
        _("Tools, hose and machines put away"),
        _("Signs up and readable"),
    ),
    List.SITE: (
        _("Fall of the ground measured, low end known"),
        _("Ground: drains, pipes, asphalt or stones under the ice"),
        _("Way in for an ambulance"),
        _("Water: tap, hose length, frost-proof drain"),
        _("Power: outdoor outlets with ground-fault protection"),
        _("Trees, wires, road and windows clear of pucks and snow"),
        _("State of the ground and paths photographed"),
    ),
    List.BOARDS: (
        _("Boards upright, braced and joined; no gap at the ground"),
        _("Nails, screws and splinters on the inside"),
        _("Liner whole, no fold tight at the foot of the boards"),
        _("Depth at the low end within what the boards are made to hold"),
        _("Gates open and close; way in for an ambulance clear"),
        _("Lights and outlets work"),
        _("Signs and barrier tape up: keep off"),
    ),
    List.AFTER: (
        _("Boards, stakes and liner taken away or stored"),
        _("Ground: ruts, ponding, dead grass"),
        _("Paths, fences, taps and lights: damage"),
        _("Odd thickness, dangerous spots and near misses of the season written down"),
        _("Borrowed things given back"),
        _("State of the ground photographed"),
    ),
    # Common practice, no source.
    List.MACHINES: (
        _("Hose: whole, drained, hung up; couplings and nozzle free of ice"),
        _("Tap or hydrant: closed, drained, key in its place"),
        _("Snow blower: fuel, oil, shear bolts, no rope or puck in the auger"),
        _("Tractor, plough or resurfacer: fuel, oil, tyres, blade"),
        _("Torch: cylinder closed, hose without cracks, extinguisher full"),
        _("Cables and outlets dry, ground-fault protection trips when tested"),
    ),
}
