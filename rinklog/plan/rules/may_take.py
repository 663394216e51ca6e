"""Who may take a place on a shift: pure rules over what the shift wants and what people hold."""

from collections.abc import Collection
from dataclasses import dataclass


@dataclass(frozen=True)
class Wants:
    """What a shift asks of the people on it: skills of which one person has each, and what everybody has."""

    people: int
    skills: frozenset[str] = frozenset()
    everybody: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Hindrance:
    """Why somebody may not take a place: `missing` names what they do not hold."""

    key: str  # "lacks": everybody needs it; "last-place": kept for somebody who has it; "full"
    missing: tuple[str, ...] = ()


def uncovered(wants: Wants, there: Collection[frozenset[str]]) -> frozenset[str]:
    """The skills that nobody on the shift has yet."""
    return wants.skills - frozenset().union(*there)


def hindrance(wants: Wants, there: Collection[frozenset[str]], held: frozenset[str]) -> Hindrance | None:
    """Why a person who holds `held` may not join those who are there; None when they may.

    The last free place is kept for somebody who has what is still missing: else the shift could not be filled.
    """
    left = wants.people - len(there)
    if left < 1:
        return Hindrance("full")
    if lacks := wants.everybody - held:
        return Hindrance("lacks", tuple(sorted(lacks)))
    still = uncovered(wants, there) - held
    if still and left == 1:
        return Hindrance("last-place", tuple(sorted(still)))
    return None
