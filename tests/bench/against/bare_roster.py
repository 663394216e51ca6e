"""The other side of `roster`: the same integer programme given to the bare solver, matrices made beforehand."""

from typing import Any

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array, vstack


def solve(
    matrix: Any, least: Any, most: Any, low: Any, high: Any, whole: Any, objectives: list[Any]
) -> float:
    """Minimise each objective in turn, and hold what was reached; returns the last value."""
    reached = 0.0
    for objective in objectives:
        ended = milp(
            objective,
            integrality=whole,
            bounds=Bounds(low, high),
            constraints=LinearConstraint(matrix, least, most),
            options={"mip_rel_gap": 0.0},
        )
        assert ended.status == 0
        reached = round(ended.fun)
        matrix = vstack([matrix, csr_array(objective.reshape(1, -1))]).tocsr()
        least, most = np.append(least, -np.inf), np.append(most, reached)
    return reached
