"""Are the boards square? What two diagonals say."""

from __future__ import annotations

from rinklog.physics.validity import require


def shift_m(first_m: float, second_m: float, length_m: float) -> float:
    """How far the far end must slide sideways so that both diagonals become equal; 0 when they are.

    Arguments: first_m the diagonal from the near left to the far right corner, second_m the other, length_m of the
    end that slides, its opposite being as long [m]. Returns: [m], positive when the far end stands too far to the right.
    Validity: opposite sides equally long. Source: parallelogram law, d1² - d2² = 4 a s.
    """
    require("length_m", length_m, 0.1, 1000, "m")
    require("first_m", first_m, 0.1, 2000, "m")
    require("second_m", second_m, 0.1, 2000, "m")
    return (first_m - second_m) * (first_m + second_m) / (4 * length_m)
