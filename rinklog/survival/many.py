"""Many comparisons at once: without correction, one in twenty of them finds a difference where there is none."""

from __future__ import annotations

from collections.abc import Sequence


def holm(chances: Sequence[float]) -> list[float]:
    """Corrected chances that keep the risk of even one false finding at its level.

    Arguments: chances (p values) [1]. Returns: the corrected ones in the same order. Source: Holm 1979.
    """
    order = sorted(range(len(chances)), key=lambda place: chances[place])
    corrected, most = [0.0] * len(chances), 0.0
    for rank, place in enumerate(order):
        most = max(most, min(1.0, (len(chances) - rank) * chances[place]))
        corrected[place] = most
    return corrected


def benjamini_hochberg(chances: Sequence[float]) -> list[float]:
    """Corrected chances that keep the share of false findings among all findings at its level.

    Arguments: chances (p values) [1]. Returns: the corrected ones in the same order. Source: Benjamini & Hochberg 1995.
    """
    order = sorted(range(len(chances)), key=lambda place: chances[place], reverse=True)
    corrected, least, count = [0.0] * len(chances), 1.0, len(chances)
    for rank, place in enumerate(order):
        least = min(least, chances[place] * count / (count - rank))
        corrected[place] = least
    return corrected
