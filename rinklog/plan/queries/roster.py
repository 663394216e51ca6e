"""A fair roster of the two weeks: from the board to the pure problem. Nothing here writes."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from uuid import UUID

from rinklog.plan.models import Shift
from rinklog.plan.queries.board import Board, Hand, standing_places
from rinklog.plan.queries.shifts import between
from rinklog.plan.roster.problem import WEEK, Night, Pair, Problem, Rules, Worker
from rinklog.plan.rules.availability import can_come, wish
from rinklog.rink.queries import rules

Span = tuple[dt.datetime, dt.datetime]


def problem_of(
    now_on: Board,
    now: dt.datetime,
    *,
    roster: str = Shift.Roster.ICE,
    pinned: Iterable[Pair] = (),
    banned: Iterable[Pair] = (),
) -> Problem:
    """The roster of one kind of work: who is on already is fixed, the other kind's shifts and last week's are busy."""
    shifts = [one for one in now_on.shifts if one.roster == roster and not one.is_off and one.starts_at > now]
    there = {(str(place.person_id), str(shift.id)) for shift in shifts for place in standing_places(shift)}
    nights = tuple(night_of(shift) for shift in shifts)
    known = {(str(hand.person.id), night.id) for hand in now_on.hands for night in nights}
    in_force = {one.rule.key: one.value for one in rules(now_on.rink)}
    limits = Rules(
        round(in_force["shifts_a_week"]), dt.timedelta(minutes=round(in_force["shift_rest_minutes"]))
    )
    busy = _elsewhere(now_on, {shift.id for shift in shifts}, now)
    workers = tuple(_worker(hand, shifts, busy[hand.person.id]) for hand in now_on.hands)
    fixed = (there | set(pinned)) & known
    return Problem(nights, workers, limits, frozenset(fixed), frozenset(banned) - fixed)


def night_of(shift: Shift) -> Night:
    """A shift as a night to fill."""
    return Night(
        str(shift.id),
        shift.starts_at,
        shift.ends_at,
        shift.people_needed,
        frozenset(shift.skills),
        frozenset(shift.everybody),
    )


def _worker(hand: Hand, shifts: list[Shift], busy: list[Span]) -> Worker:
    can = [one for one in shifts if can_come(hand.lines, one.starts_at, one.ends_at)]
    days = [hand.held_on(one.night) for one in shifts] or [frozenset()]
    return Worker(
        str(hand.person.id),
        # What runs out within the two weeks is not counted on at all.
        frozenset.intersection(*days),
        round(60 * hand.share.hours),
        frozenset(str(one.id) for one in can),
        {str(one.id): wish(hand.lines, one.starts_at, one.ends_at) for one in shifts},
        tuple(busy),
    )


def _elsewhere(now_on: Board, mine: set[UUID], now: dt.datetime) -> dict[UUID, list[Span]]:
    """The shifts that people are on outside this roster, from a week before it on."""
    busy: dict[UUID, list[Span]] = defaultdict(list)
    first = min((one.starts_at for one in now_on.shifts), default=now)
    for shift in [*between(now_on.rink, first - WEEK, first), *now_on.shifts]:
        if shift.id not in mine and not shift.is_off:
            for place in standing_places(shift):
                busy[place.person_id].append((shift.starts_at, shift.ends_at))
    return busy
