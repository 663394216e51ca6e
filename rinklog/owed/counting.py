"""How many of a loan are where, from what happened to it. Pure counting, no database."""

from collections.abc import Iterable
from dataclasses import dataclass

FAULT, MENDED, LOST, FOUND, RETURNED = "fault", "mended", "lost", "found", "returned"


@dataclass(frozen=True)
class Counts:
    """Of what was lent: still here and in order, here but broken, lost, given back."""

    sound: int
    broken: int = 0
    lost: int = 0
    returned: int = 0

    @property
    def here(self) -> int:
        """What is still at the rink, broken or not."""
        return self.sound + self.broken

    @property
    def owed(self) -> int:
        """What was not given back: here or lost."""
        return self.here + self.lost

    def room_for(self, what: str) -> int:
        """How many of them this can still happen to."""
        return {
            FAULT: self.sound, MENDED: self.broken, LOST: self.here, FOUND: self.lost, RETURNED: self.here,
        }[what]  # fmt: skip

    def after(self, what: str, count: int) -> "Counts":
        """The counts after it happened to so many; what is lost or given back is taken from the sound ones first."""
        if what == FAULT:
            return Counts(self.sound - count, self.broken + count, self.lost, self.returned)
        if what == MENDED:
            return Counts(self.sound + count, self.broken - count, self.lost, self.returned)
        if what == FOUND:
            return Counts(self.sound + count, self.broken, self.lost - count, self.returned)
        sound = min(count, self.sound)
        left = Counts(self.sound - sound, self.broken - (count - sound), self.lost, self.returned)
        if what == LOST:
            return Counts(left.sound, left.broken, left.lost + count, left.returned)
        return Counts(left.sound, left.broken, left.lost, left.returned + count)


def counts(lent: int, events: Iterable[tuple[str, int]]) -> Counts:
    """The counts of a loan of so many after its events (what, count), in order."""
    found = Counts(lent)
    for what, count in events:
        found = found.after(what, count)
    return found
