"""The rule for machines on the ice: enough holes, and enough ice in every one. It says no more; a person decides."""

from collections.abc import Sequence
from dataclasses import dataclass

LEAST_DIFFERENCE_M = 1e-6  # what units and floats leave behind


@dataclass(frozen=True)
class MachineRule:
    """How many holes a machine needs, and how much ice in every one of them [m]."""

    holes: int
    least_m: float

    def met_by(self, counted_m: Sequence[float]) -> bool:
        """Whether there are enough holes and every one is at least that thick.

        Source: Naperville Park District IL, Maintenance guidelines (2023 plan): 10 cm in 3 to 4 holes.
        """
        thick = all(one >= self.least_m - LEAST_DIFFERENCE_M for one in counted_m)
        return len(counted_m) >= self.holes and thick
