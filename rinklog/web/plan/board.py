"""The coordinator's two weeks on one screen: nights, who is on, who is missing, and whom to ask."""

import datetime as dt
from dataclasses import dataclass
from typing import Any
from uuid import UUID, uuid4

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog import clock
from rinklog.advice.items import Window
from rinklog.advice.queries import windows
from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.plan.models import Shift
from rinklog.plan.queries.board import Board, Hand, Night, Standing, board, still_to_fill
from rinklog.plan.queries.people import uncovered_holidays
from rinklog.plan.services import places
from rinklog.plan.words import why_not
from rinklog.web.access import At, found, on_rink
from rinklog.web.panels import reply
from rinklog.web.plan.shift_views import posted_id
from rinklog.web.plan.showing import Shown, letters, shown


@dataclass(frozen=True)
class Candidate:
    """Somebody who could be asked for a shift, and what speaks for or against it."""

    hand: Hand
    standing: Standing
    letters: str
    hindrance: str

    @property
    def order(self) -> tuple[bool, int, float, dt.datetime, str]:
        """Free people first, then whoever likes it, did least, and was there longest ago."""
        share = self.hand.share
        never = dt.datetime.min.replace(tzinfo=dt.UTC)
        return (
            not self.standing.free,
            -self.standing.wish,
            share.hours,
            share.last or never,
            self.hand.person.name,
        )


@dataclass(frozen=True)
class Column:
    """One night of the board."""

    night: Night
    shifts: list[Shown]
    is_today: bool
    window: Window | None  # likely to freeze a coat, and no ice work planned yet
    new_id: UUID


@on_rink(Right.RUN_CREW)
def board_page(request: HttpRequest, at: At) -> HttpResponse:
    """The two weeks from tonight, or from the night in the address."""
    return answer(request, at)


@on_rink(Right.RUN_CREW)
@require_POST
def assign(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Put somebody on a shift."""
    shift = at.shift(id)
    person = found(_member(at, request.POST.get("person", ""))).person
    try:
        places.take(id=posted_id(request), shift=shift, person=person, by=at.person, now=at.now)
    except (Refused, Conflict) as error:
        sentence = str(error.sentence) if isinstance(error, Refused) else _("That place is somebody else's.")
        return answer(request, at, chosen=str(id), refused=sentence)
    if getattr(request, "htmx", False):
        return answer(request, at, chosen=str(id))
    return redirect("shift-board", slug=at.rink.slug)


def answer(request: HttpRequest, at: At, chosen: str = "", refused: str = "") -> HttpResponse:
    """The board as a page or as a panel."""
    first = first_night(request, at)
    now_on = board(at.rink, at.season, first, at.now)
    context: dict[str, Any] = {
        "board": now_on,
        "first": first,
        "before": first - dt.timedelta(days=14),
        "after": first + dt.timedelta(days=14),
        "columns": columns(now_on, at),
        "rows": [(hand, letters(hand.person.name), cells(now_on, hand)) for hand in now_on.hands],
        "clashes": list(now_on.clashes()),
        "to_fill": still_to_fill(one for one in now_on.shifts if one.ends_at > at.now),
        "uncovered": uncovered_holidays(at.rink, at.today),
        "refused": refused,
    }
    one = _chosen(now_on, chosen or request.GET.get("shift", ""))
    if one is not None:
        context |= {
            "chosen": shown(one, at.person.id, now_on.missing(one)),
            "candidates": candidates(now_on, one),
        }
    return reply(request, "plan/board.html", "plan/_board.html", context, status=409 if refused else 200)


def columns(now_on: Board, at: At) -> list[Column]:
    """Every night with its shifts and who is missing."""
    tonight = clock.night_of(at.now, at.zone)
    likely = {clock.night_of(one.starts_at, at.zone): one for one in windows(at.rink, at.now)}
    found = []
    for night in now_on.nights:
        planned = any(one.roster == Shift.Roster.ICE for one in night.shifts)
        lines = [shown(shift, at.person.id, now_on.missing(shift)) for shift in night.shifts]
        window = None if planned else likely.get(night.day)
        found.append(Column(night, lines, night.day == tonight, window, uuid4()))
    return found


def candidates(now_on: Board, shift: Shift) -> list[Candidate]:
    """Everybody who is not on the shift, whom to ask first on top."""
    rows = []
    for hand in now_on.hands:
        standing = now_on.standing(hand, shift)
        if standing.on is None:
            why = why_not(standing.hindrance, shift) if standing.hindrance else ""
            rows.append(Candidate(hand, standing, letters(hand.person.name), why))
    return sorted(rows, key=lambda row: row.order)


def cells(now_on: Board, hand: Hand) -> list[tuple[str, list[Shift]]]:
    """For each night of one person: "on", "clash", "away", "off" (no shift) or "free", and their shifts then."""
    mine = [shift for shift, _place in now_on.on(hand.person.id)]
    return [
        cell(now_on, hand, night, [one for one in mine if one.night == night.day]) for night in now_on.nights
    ]


def cell(now_on: Board, hand: Hand, night: Night, mine: list[Shift]) -> tuple[str, list[Shift]]:
    """How one person stands to one night."""
    standing = [shift for shift in night.shifts if not shift.is_off]
    if mine:
        apart = all(one.ends_at <= other.starts_at for one, other in zip(mine, mine[1:], strict=False))
        return ("on" if apart else "clash", mine)
    if not standing:
        return "off", []
    away = bool(hand.lines) and all(now_on.is_away(hand, shift) for shift in standing)
    return ("away" if away else "free", [])


def first_night(request: HttpRequest, at: At) -> dt.date:
    """The night the board begins with: in the address, or tonight."""
    try:
        return dt.date.fromisoformat(request.GET.get("from", request.POST.get("from", "")))
    except ValueError:
        return clock.night_of(at.now, at.zone)


def _chosen(now_on: Board, text: str) -> Shift | None:
    return next((one for one in now_on.shifts if str(one.id) == text and not one.is_off), None)


def _member(at: At, text: str) -> Any:
    try:
        return at.member(UUID(text))
    except ValueError:
        return None
