"""Hazard markers on the map: told apart by shape and letter, never by colour alone. The codes are our own.

The shape says what sort of thing it is, the letter which. How bad: outline only, filled, filled with a ring. A cone
beside it: the cone is out. A broken outline: repaired, and so far holding.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.rink.models import Grid
from rinklog.web.rinkmap.drawing import UNITS_PER_M
from rinklog.work.hazard_places import place_m
from rinklog.work.hazards import DAMAGE
from rinklog.work.models import Hazard

Kind = Hazard.Kind


@dataclass(frozen=True)
class Shape:
    """An outline within ±12 drawing units, the height of the letter's middle in it, and its meaning."""

    path: str
    letter_y: float
    title: str | Promise


RAISED = Shape("M-12 10V1A12 12 0 0 1 12 1V10Z", 0.5, lazy("stands up"))
OPEN = Shape("M-12-9H12L0 12Z", -2.5, lazy("cut into the ice"))
WEAK = Shape("M0-11A11 11 0 1 1 0 11A11 11 0 1 1 0-11Z", 0, lazy("weak ice"))
LYING = Shape("M0-13L13 0L0 13L-13 0Z", 0, lazy("lies on the ice"))
BROKEN = Shape("M-10-10H10V10H-10Z", 0, lazy("something is broken"))

CODES: dict[str, tuple[Shape, str]] = {
    Kind.BUMP: (RAISED, "B"),
    Kind.RIDGE: (RAISED, "R"),
    Kind.CRACK: (OPEN, "C"),
    Kind.RUT: (OPEN, "U"),
    Kind.SHELL_ICE: (WEAK, "E"),
    Kind.SLUSH: (WEAK, "S"),
    Kind.THIN_SPOT: (WEAK, "T"),
    Kind.SOFT_SPOT: (WEAK, "O"),
    Kind.DEBRIS: (LYING, "D"),
    Kind.DRIFT: (LYING, "W"),
    Kind.LINER: (BROKEN, "L"),
    Kind.BOARD: (BROKEN, "P"),
    Kind.STAKE: (BROKEN, "K"),
    Kind.NET: (BROKEN, "N"),
    Kind.LIGHT: (BROKEN, "G"),
    Kind.HOSE: (BROKEN, "H"),
}


@dataclass(frozen=True)
class Code:
    """How a kind is marked, for legends and tiles."""

    kind: str
    title: str
    shape: Shape
    letter: str
    damage: bool


@dataclass(frozen=True)
class Mark:
    """A hazard's marker at its place, in drawing units."""

    hazard: Hazard
    shape: Shape
    letter: str
    x: float
    y: float
    scale: float

    @property
    def holding(self) -> bool:
        """Whether the outline is broken: repaired, and holding so far."""
        return self.hazard.state == Hazard.State.HOLDING

    @property
    def words(self) -> str:
        """The marker in words, for whoever does not see it."""
        hazard = self.hazard
        cone = _("cone out") if hazard.cone_out else _("no cone")
        return _("Hazard %(number)d: %(kind)s, %(severity)s, %(state)s, %(cone)s") % {
            "number": hazard.number,
            "kind": hazard.get_kind_display(),
            "severity": hazard.get_severity_display(),
            "state": hazard.get_state_display(),
            "cone": cone,
        }


def codes() -> list[Code]:
    """Every kind with its shape and letter, in the order of the form."""
    return [Code(kind, str(Kind(kind).label), *CODES[kind], kind in DAMAGE) for kind in CODES]


def marks(hazards: Iterable[Hazard], grid: Grid) -> list[Mark]:
    """Markers of the hazards that have a place on the sheet; those at one spot stand side by side."""
    taken: Counter[tuple[int, int]] = Counter()
    scale = round(max(grid.width_m, grid.length_m / 2) * UNITS_PER_M / 240, 2)
    drawn = []
    for hazard in hazards:
        place = place_m(hazard)
        if place is None or place[0] > grid.length_m or place[1] > grid.width_m:
            continue
        spot = round(place[0]), round(place[1])
        shift, taken[spot] = taken[spot] * 24 * scale, taken[spot] + 1
        x, y = place[1] * UNITS_PER_M + shift, (grid.length_m - place[0]) * UNITS_PER_M
        drawn.append(Mark(hazard, *CODES[hazard.kind], round(x, 1), round(y, 1), scale))
    return drawn
