"""How shifts are shown: places as pucks, who lacks, what the person looking may do."""

from dataclasses import dataclass
from uuid import UUID, uuid4

from rinklog.plan.models import Shift, ShiftPlace
from rinklog.plan.queries.board import open_places, standing_places
from rinklog.plan.words import permissions


@dataclass(frozen=True)
class Puck:
    """One place: somebody's, or open."""

    place: ShiftPlace | None
    letters: str


@dataclass(frozen=True)
class Shown:
    """A shift for one person to look at."""

    shift: Shift
    pucks: list[Puck]
    open: int
    mine: ShiftPlace | None
    new_id: UUID
    missing: str = ""

    @property
    def chance(self) -> float | None:
        """The chance of the window it was made from."""
        return (self.shift.window or {}).get("chance")

    @property
    def percent(self) -> int | None:
        """The same in percent."""
        return None if self.chance is None else round(100 * self.chance)


def letters(name: str) -> str:
    """One or two letters of a name."""
    words = name.split()
    return (words[0][:1] + words[-1][:1] if len(words) > 1 else name[:2]).upper()


def shown(shift: Shift, person_id: UUID, missing: frozenset[str] = frozenset()) -> Shown:
    """A shift with its places as pucks, open ones last."""
    places = standing_places(shift)
    taken = [Puck(place, letters(place.person.name)) for place in places]
    free = [Puck(None, "+")] * open_places(shift)
    mine = next((place for place in places if place.person_id == person_id), None)
    return Shown(shift, taken + free, len(free), mine, uuid4(), permissions(sorted(missing)))
