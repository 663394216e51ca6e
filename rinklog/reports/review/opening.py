"""Skateable days: those on which a person had set the rink open, or partly open, for some of the day."""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass, field
from uuid import UUID
from zoneinfo import ZoneInfo

from rinklog.clock import day_bounds, local_day
from rinklog.records.models import Opening
from rinklog.records.queries import standing
from rinklog.rink.models import Rink

Change = tuple[dt.datetime, str]
RANK = {"": 0, Opening.State.CLOSED.value: 1, Opening.State.PARTLY.value: 2, Opening.State.OPEN.value: 3}


@dataclass
class Open:
    """A season's days by the best state they saw, and the hours the rink was open or partly open."""

    states: dict[dt.date, str] = field(default_factory=dict)
    hours: float = 0.0
    changes: int = 0

    @property
    def skateable(self) -> int:
        """How many days were skateable."""
        return sum(RANK[state] >= RANK[Opening.State.PARTLY] for state in self.states.values())


def changes_by_season(rink: Rink) -> dict[UUID, list[Change]]:
    """Every change of opening that counts, by season, in order of time: one query for all seasons."""
    found: dict[UUID, list[Change]] = defaultdict(list)
    rows = standing(Opening, rink).order_by("at", "recorded_at").values_list("season_id", "at", "state")
    for season_id, at, state in rows:
        found[season_id].append((at, state))
    return found


def open_days(changes: list[Change], until: dt.datetime, zone: ZoneInfo) -> Open:
    """Walk a season's changes; the last state holds to `until`. What an earlier season said does not count."""
    found = Open(changes=len(changes))
    ends = [*(at for at, _state in changes[1:]), until][: len(changes)]
    for (start, state), end in zip(changes, ends, strict=True):
        end = min(end, until)
        if end <= start:
            continue
        if RANK[state] >= RANK[Opening.State.PARTLY]:
            found.hours += (end - start).total_seconds() / 3600
        day = local_day(start, zone)
        while day_bounds(day, zone)[0] < end:
            if RANK[state] > RANK[found.states.get(day, "")]:
                found.states[day] = state
            day += dt.timedelta(days=1)
    return found
