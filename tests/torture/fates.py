"""What may become of a request on its way, and how often; everything is drawn from one seed."""

import random
from collections import Counter
from dataclasses import dataclass, field

# Of 100 requests. Together they leave a little more than half of them in peace.
WEIGHTS = {
    "passed": 56,
    "lost before": 7,  # the request never arrives
    "lost after": 9,  # it arrives, the answer never does: the case in which a careless client records twice
    "cut": 5,  # half of the answer
    "stalled": 4,  # the answer hangs, then the line breaks
    "late": 9,  # held back, so that others overtake it
    "doubled": 6,  # arrives twice at the same moment
    "again later": 4,  # arrives once more when the phone has long gone on
}
LATE_S, STALL_S, AGAIN_S = (0.2, 2.5), (6.0, 40.0), (1.0, 10.0)


@dataclass
class Fates:
    """Draws the fate of every request; `storm` off lets everything pass."""

    seed: int
    storm: bool = False
    counted: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        self.dice = random.Random(self.seed)

    def draw(self) -> str:
        """The fate of the next request."""
        fate = self.dice.choices(list(WEIGHTS), list(WEIGHTS.values()))[0] if self.storm else "in calm"
        self.counted[fate] += 1
        return fate

    def between(self, span: tuple[float, float]) -> float:
        """A moment [s] within a span."""
        return self.dice.uniform(*span)
