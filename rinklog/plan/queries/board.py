"""The coordinator's two weeks: nights, shifts, and how everybody stands to each of them. Nothing here writes.

A fixed number of queries, however many people and shifts there are.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from uuid import UUID
from zoneinfo import ZoneInfo

from rinklog import clock
from rinklog.crew.models import Membership, Person
from rinklog.plan.models import Availability, Permission, Shift, ShiftPlace
from rinklog.plan.queries import people as people_queries
from rinklog.plan.queries.people import NOTHING, Share
from rinklog.plan.queries.shifts import between, wants_of
from rinklog.plan.rules.availability import Line, can_come, wish
from rinklog.plan.rules.may_take import Hindrance, hindrance, uncovered
from rinklog.rink.models import Rink, Season

NIGHTS = 14
WORKING = (Membership.Role.KEEPER, Membership.Role.COORDINATOR, Membership.Role.VOLUNTEER)


@dataclass(frozen=True)
class Standing:
    """How one person stands to one shift: on it, or why (not) to ask them."""

    on: ShiftPlace | None
    clash: Shift | None
    away: bool
    wish: int
    hindrance: Hindrance | None

    @property
    def free(self) -> bool:
        """Whether they could be put on it now."""
        return not (self.on or self.clash or self.away or self.hindrance)


@dataclass(frozen=True)
class Night:
    """One night and its shifts."""

    day: dt.date
    shifts: list[Shift]


@dataclass(frozen=True)
class Hand:
    """One person: what they hold and said, and how much they did."""

    person: Person
    role: str
    permissions: list[Permission]
    lines: list[Line]
    share: Share

    def held_on(self, day: dt.date) -> frozenset[str]:
        """What they hold on a day."""
        return frozenset(
            one.what for one in self.permissions if one.since <= day and (not one.until or day <= one.until)
        )


@dataclass(frozen=True)
class Board:
    """The two weeks as they stand."""

    rink: Rink
    first: dt.date
    shifts: list[Shift]
    hands: list[Hand]

    @cached_property
    def zone(self) -> ZoneInfo:
        """The rink's time zone."""
        return ZoneInfo(self.rink.time_zone)

    @cached_property
    def nights(self) -> list[Night]:
        """Every night of the two weeks, with or without a shift."""
        days = [self.first + dt.timedelta(days=n) for n in range(NIGHTS)]
        return [Night(day, [shift for shift in self.shifts if shift.night == day]) for day in days]

    @cached_property
    def by_person(self) -> dict[UUID, Hand]:
        """Everybody by their id."""
        return {hand.person.id: hand for hand in self.hands}

    @cached_property
    def _on(self) -> dict[UUID, list[tuple[Shift, ShiftPlace]]]:
        found: dict[UUID, list[tuple[Shift, ShiftPlace]]] = defaultdict(list)
        for shift in self.shifts:
            if not shift.is_off:
                for place in standing_places(shift):
                    found[place.person_id].append((shift, place))
        return found

    def on(self, person_id: UUID) -> list[tuple[Shift, ShiftPlace]]:
        """The shifts of the two weeks that somebody is on."""
        return self._on.get(person_id, [])

    def standing(self, hand: Hand, shift: Shift) -> Standing:
        """How a person stands to a shift."""
        mine = self.on(hand.person.id)
        on = next((place for one, place in mine if one.id == shift.id), None)
        held = hand.held_on(clock.local_day(shift.starts_at, self.zone))
        there = [self.held(place.person_id, shift) for place in standing_places(shift)]
        return Standing(
            on=on,
            clash=next((one for one, _place in mine if overlap(one, shift)), None),
            away=self.is_away(hand, shift),
            wish=wish(hand.lines, shift.starts_at, shift.ends_at),
            hindrance=hindrance(wants_of(shift), there, held),
        )

    def is_away(self, hand: Hand, shift: Shift) -> bool:
        """Whether somebody said that they cannot come then."""
        return not can_come(hand.lines, shift.starts_at, shift.ends_at)

    def held(self, person_id: UUID, shift: Shift) -> frozenset[str]:
        """What somebody holds on the day of a shift."""
        hand = self.by_person.get(person_id)
        return hand.held_on(clock.local_day(shift.starts_at, self.zone)) if hand else NOTHING

    def missing(self, shift: Shift) -> frozenset[str]:
        """The skills that nobody on a shift has yet."""
        return uncovered(wants_of(shift), [self.held(one.person_id, shift) for one in standing_places(shift)])

    def clashes(self) -> Iterator[tuple[Person, Shift, Shift]]:
        """Everybody who is on two shifts at once, with the two."""
        for hand in self.hands:
            mine = [shift for shift, _place in self.on(hand.person.id)]
            for number, one in enumerate(mine):
                for other in mine[number + 1 :]:
                    if overlap(one, other):
                        yield hand.person, one, other


def board(rink: Rink, season: Season, first: dt.date, now: dt.datetime) -> Board:
    """The two weeks from a night on."""
    zone = ZoneInfo(rink.time_zone)
    start, _end = clock.night_bounds(first, zone)
    _start, end = clock.night_bounds(first + dt.timedelta(days=NIGHTS - 1), zone)
    return Board(rink, first, list(between(rink, start, end)), hands(rink, season, now))


def hands(rink: Rink, season: Season, now: dt.datetime) -> list[Hand]:
    """Everybody who works on a rink, by name; four queries."""
    members = Membership.objects.filter(rink=rink, left_at=None, role__in=WORKING)
    permissions: dict[UUID, list[Permission]] = defaultdict(list)
    for one in people_queries.permissions(rink):
        permissions[one.person_id].append(one)
    said = lines_of(rink)
    shares = people_queries.shares(rink, season, now)
    return [
        Hand(
            member.person,
            member.role,
            permissions[member.person_id],
            said.get(member.person_id, []),
            shares.get(member.person_id, Share()),
        )
        for member in members.select_related("person").order_by("person__name")
    ]


def lines_of(rink: Rink) -> dict[UUID, list[Line]]:
    """What everybody said of when they can come, by person."""
    said: dict[UUID, list[Line]] = defaultdict(list)
    for one in Availability.objects.filter(rink=rink):
        said[one.person_id].append(line_of(one))
    return said


def line_of(one: Availability) -> Line:
    """A stored line as the pure rules read it."""
    return Line(one.sort, one.zone, one.weekday, one.from_time, one.to_time, one.starts_at, one.ends_at)


def standing_places(shift: Shift) -> list[ShiftPlace]:
    """The places of a shift that was read with its people."""
    return shift.standing_places  # type: ignore[attr-defined,no-any-return]


def overlap(one: Shift, other: Shift) -> bool:
    """Whether two shifts that stand share any time."""
    both = not one.is_off and not other.is_off and one.id != other.id
    return both and one.starts_at < other.ends_at and other.starts_at < one.ends_at


def open_places(shift: Shift) -> int:
    """How many people a shift still needs."""
    return 0 if shift.is_off else max(0, shift.people_needed - len(standing_places(shift)))


def still_to_fill(shifts: Iterable[Shift]) -> list[Shift]:
    """The shifts that need people, the nearest first."""
    return sorted((shift for shift in shifts if open_places(shift)), key=lambda shift: shift.starts_at)
