"""What worked, asked of seasons whose truth is known: the same code as the review's, from repairs to the written verdict.

Limits: 40 repairs of each of two methods, about 60 % seen to fail, a hazard ratio of 2.5: the better one is named in at
least 80 % of seasons; where both hold alike, no winner is named in at least 95 %.
"""

import datetime as dt
import math
import random
from uuid import UUID

from rinklog.reports.review.held import compared, grouped
from rinklog.work.spell_queries import Spell

SEASONS = 1000  # two standard errors are 0.025 of a share of 0.8, 0.014 of one of 0.95
REPAIRS = 40
LOOK_DAYS, SEASON_DAYS = 2.0, 60.0
START = dt.datetime(2025, 12, 1, tzinfo=dt.UTC)
NOBODY = UUID(int=0)
SLOW = {2.5: 0.0127, 1.0: 0.0205}  # failures a day of the better method, so that about 60 % are seen to fail


def spell(method: str, day: float, good: float, failed: float | None) -> Spell:
    """A repair made on a day of the season, last seen good and seen failed so many days after it."""
    made = START + dt.timedelta(days=day)
    return Spell(
        defect="bump",
        method=method,
        repaired_at=made,
        seen_good_last_at=made + dt.timedelta(days=good),
        failed_at=None if failed is None else made + dt.timedelta(days=failed),
        censored_at=START + dt.timedelta(days=SEASON_DAYS) if failed is None else None,
        zone_ids=(),
        water_m3=0.02,
        minutes=20.0,
        hazard_id=NOBODY,
        entry_root_id=NOBODY,
    )


def season(chance: random.Random, ratio: float) -> list[Spell]:
    """Repairs made in the first half of the season and looked at every other day: a failure lies between two looks."""
    found = []
    for method, rate in (("hot-water-pour", SLOW[ratio]), ("slush-pack", SLOW[ratio] * ratio)):
        for _repair in range(REPAIRS):
            day = chance.random() * SEASON_DAYS / 2
            fails, first = chance.expovariate(rate), chance.random() * LOOK_DAYS
            seen = first + max(0, math.ceil((fails - first) / LOOK_DAYS)) * LOOK_DAYS
            last = (SEASON_DAYS - day - first) // LOOK_DAYS * LOOK_DAYS + first
            good = max(0.0, min(seen - LOOK_DAYS, last))
            found.append(spell(method, day, good, seen if seen <= SEASON_DAYS - day else None))
    return found


def named(known: list[Spell]) -> str:
    """The method that the review says held longer, or nothing."""
    (row,) = compared(grouped(known)).dicts()
    return str(row["better"]) if row["verdict"] == "held longer than the other" else ""


def test_a_better_method_is_named_in_most_seasons() -> None:
    chance = random.Random(2026)
    seasons = [season(chance, 2.5) for _season in range(SEASONS)]
    failed = sum(one.failed for known in seasons for one in known) / SEASONS / REPAIRS / 2
    assert 0.57 <= failed <= 0.63
    winners = [named(known) for known in seasons]
    assert winners.count("hot-water-pour") / SEASONS >= 0.80
    assert winners.count("slush-pack") / SEASONS <= 0.001


def test_no_winner_is_named_where_there_is_none() -> None:
    chance = random.Random(2027)
    winners = [named(season(chance, 1.0)) for _season in range(SEASONS)]
    assert winners.count("") / SEASONS >= 0.95
