"""The store: what lies in it, what is to be bought, how long liners lasted."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from django.db.models import QuerySet

from rinklog.rink.models import Rink, Season
from rinklog.site.models import StoredItem
from rinklog.site.things import Thing
from rinklog.survival.kaplan_meier import Spell, kaplan_meier, median

State = StoredItem.State
ENOUGH_LINERS = 3
"""Fewer ends than this say nothing of how long a liner lasts."""


@dataclass(frozen=True)
class Liners:
    """How many seasons each liner served, and the middle of them when enough have worn out."""

    lives: list[tuple[StoredItem, int]]
    worn_out: int
    median_seasons: float | None


def items(rink: Rink) -> QuerySet[StoredItem]:
    """Everything, by thing."""
    return StoredItem.objects.filter(rink=rink).select_related("by")


def item(rink: Rink, id: UUID) -> StoredItem | None:
    """One thing of a rink's store."""
    return items(rink).filter(id=id).first()


def usable(found: Iterable[StoredItem], liner_m: tuple[float, float] | None = None) -> dict[str, float]:
    """How much of each thing is there in a good state; a liner counts when it is known to be large enough."""
    there: dict[str, float] = {}
    for one in found:
        if one.state != State.GOOD or (one.thing == Thing.LINER and not covers(one, liner_m)):
            continue
        there[one.thing] = there.get(one.thing, 0.0) + one.quantity
    return there


def covers(liner: StoredItem, wanted_m: tuple[float, float] | None) -> bool:
    """Whether a liner is known to be as large as a cut, either way round."""
    if wanted_m is None or liner.length_m is None or liner.width_m is None:
        return False
    have, want = sorted((liner.length_m, liner.width_m)), sorted(wanted_m)
    return have[0] >= want[0] and have[1] >= want[1]


def liners(found: Iterable[StoredItem], seasons: Iterable[Season], today: dt.date) -> Liners:
    """How many seasons each liner served: those that began while it was there, with the one it was bought in.

    The middle is Kaplan and Meier's: liners still in use count as long as they have lasted.
    """
    starts = [one.starts_on for one in seasons if one.starts_on <= today]
    known = [one for one in found if one.thing == Thing.LINER and one.bought_on]
    lives = [(one, served(one, starts, today)) for one in known]
    ends = sum(one.state == State.GONE for one in known)
    spells = [Spell(seasons, one.state == State.GONE) for one, seasons in lives]
    middle = median(kaplan_meier(spells)) if ends >= ENOUGH_LINERS else None
    return Liners(lives, ends, middle)


def served(liner: StoredItem, starts: list[dt.date], today: dt.date) -> int:
    """Seasons in which a liner was used: begun since it was bought (the latest begun before counts when it was bought
    within it) and until it was gone."""
    assert liner.bought_on is not None
    until = liner.gone_on or today
    begun = [start for start in starts if start <= until]
    after = [start for start in begun if start >= liner.bought_on]
    within = [start for start in begun if start < liner.bought_on <= start + dt.timedelta(days=180)]
    return len(after) + (1 if within else 0)
