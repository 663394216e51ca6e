"""Hazards: how many, how long they were open, how long without a cone, how often they came back."""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from django.utils.translation import gettext_lazy as lazy

from rinklog.reports.review.span import Span
from rinklog.reports.review.tables import Column, Shape, Table
from rinklog.reports.review.words import TOTAL
from rinklog.work.models import Hazard, HazardEvent

State = Hazard.State
NOT_OPEN = (State.HOLDING, State.CLOSED, State.WITHDRAWN)
_OPEN = Column("open_days", lazy("Open"), "days", 2)
_BARE = Column("unmarked_h", lazy("Open without a cone"), "h", 1)
_BACK = Column("comebacks", lazy("Came back"), digits=0)
KINDS_SHAPE = Shape(
    "hazards-by-kind",
    lazy("Hazards by kind"),
    (
        Column("kind", lazy("Hazard"), words="hazard"),
        Column("opened", lazy("Found"), digits=0),
        Column("still_open", lazy("Not closed"), digits=0),
        _OPEN,
        Column("mean_open_days", lazy("Open, each"), "days", 2),
        _BARE,
        _BACK,
    ),
)
HAZARDS_SHAPE = Shape(
    "hazards",
    lazy("Every hazard"),
    (
        Column("number", lazy("Number"), digits=0),
        Column("kind", lazy("Hazard"), words="hazard"),
        Column("severity", lazy("How bad"), words="severity"),
        Column("found_on", lazy("Found"), "day"),
        Column("state", lazy("State"), words="hazard_state"),
        _OPEN,
        _BARE,
        _BACK,
    ),
)


@dataclass
class Life:
    """One hazard from found to closed, or to the end of what is known."""

    number: int
    kind: str
    severity: str
    found_at: dt.datetime
    state: str = State.FOUND
    open_s: float = 0.0
    unmarked_s: float = 0.0
    comebacks: int = 0

    @property
    def closed(self) -> bool:
        """Whether somebody closed it."""
        return self.state == State.CLOSED


def lives(span: Span) -> list[Life]:
    """Every hazard of the season that was no mistake, by number, in one query."""
    names = ("number", "kind", "severity", "found_at")
    rows = (
        HazardEvent.objects.filter(hazard__season=span.season, undone_at=None, at__lte=span.now)
        .exclude(hazard__state=State.WITHDRAWN)
        .order_by("hazard__number", "at", "turn")
        .values_list(*(f"hazard__{name}" for name in names), "state", "cone_out", "at")
    )
    found = []
    for about, events in groupby(rows, key=lambda row: row[:4]):
        found.append(_life(Life(*about), [row[4:] for row in events], span.bounds[1]))
    return found


def _life(life: Life, events: list[tuple[str, bool, dt.datetime]], end: dt.datetime) -> Life:
    ends = [at for _state, _cone, at in events[1:]] + [max(end, events[-1][2])]
    for (state, cone_out, at), until in zip(events, ends, strict=True):
        life.state = state
        life.comebacks += state == State.BACK_AGAIN
        if state not in NOT_OPEN:
            passed = (until - at).total_seconds()
            life.open_s += passed
            life.unmarked_s += 0.0 if cone_out else passed
    return life


def by_kind(found: list[Life]) -> Table:
    """One row a kind, and their sum."""
    groups: dict[str, list[Life]] = defaultdict(list)
    for life in found:
        groups[life.kind].append(life)
    rows = [_sums(kind, group) for kind, group in sorted(groups.items())]
    return Table.of(KINDS_SHAPE, [*rows, _sums(TOTAL, found)] if found else [])


def _sums(kind: str, group: list[Life]) -> tuple[Any, ...]:
    open_days = sum(life.open_s for life in group) / 86400
    return (
        kind,
        len(group),
        sum(not life.closed for life in group),
        open_days,
        open_days / len(group),
        sum(life.unmarked_s for life in group) / 3600,
        sum(life.comebacks for life in group),
    )


def every(found: list[Life], span: Span) -> Table:
    """One row a hazard."""
    return Table.of(
        HAZARDS_SHAPE,
        [
            (
                life.number,
                life.kind,
                life.severity,
                life.found_at.astimezone(span.zone).date(),
                life.state,
                life.open_s / 86400,
                life.unmarked_s / 3600,
                life.comebacks,
            )
            for life in found
        ],
    )
