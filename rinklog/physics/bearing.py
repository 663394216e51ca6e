"""What the published guidance for floating ice says a thickness carries; never a promise."""

from __future__ import annotations

from typing import cast

import numpy as np

from rinklog.physics.validity import NotApplicableError, Num, require

FROZEN_REASON = (
    "the rule is for ice floating on water; ice frozen to the liner or the ground rests on it, "
    "and the rule says nothing about it"
)


def require_floating(base: str) -> None:
    """Refuse floating-ice rules for ice that does not float.

    Arguments: base "water" or "frozen". Errors: NotApplicableError with the reason; ValueError for another
    word.
    """
    if base == "frozen":
        raise NotApplicableError(f"base is frozen; permitted: water, because {FROZEN_REASON}.")
    if base != "water":
        raise ValueError(f"base is {base}; permitted: water (frozen is refused: {FROZEN_REASON}).")


def effective_m(clear_m: Num, white_m: Num, white_share: float = 0.5) -> Num:
    """Thickness that counts: clear ice and half of the white.

    Arguments: clear_m, white_m [m], white_share [0-1]. Returns: [m]. Validity: sound ice, no water between
    layers. Source: Alberta-type guides (from memory); Minnesota DNR: white ice is half as strong.
    """
    require("clear_m", clear_m, 0, 5, "m")
    require("white_m", white_m, 0, 5, "m")
    return clear_m + white_share * white_m


def load_kg(effective: Num, coefficient: Num = 4.0) -> Num:
    """Moving load of the guidance on clear sound floating ice, P = A h².

    Arguments: effective [m], coefficient A [kg/cm²]. Returns: [kg]. Validity: A 3-7 (3.5 cautious, 6 risky);
    not parked loads, not thaw, not ice frozen to the ground. Source: Gold 1971.
    """
    require("coefficient", coefficient, 3, 7, "kg/cm²")
    return coefficient * (100 * effective) ** 2


def needed_m(load: Num, coefficient: Num = 4.0) -> Num:
    """Effective thickness of the guidance for a moving load.

    Arguments: load [kg], coefficient A [kg/cm²]. Returns: [m]. Validity: as load_kg. Source: Gold 1971,
    inverted.
    """
    require("coefficient", coefficient, 3, 7, "kg/cm²")
    require("load_kg", load, 0, 1e5, "kg")
    return cast(Num, np.sqrt(np.asarray(load) / coefficient) / 100)
