"""A fair roster for the two weeks: proposed, explained person by person, changed, proposed again, put on."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.plan.models import Shift
from rinklog.plan.queries.board import Board, board
from rinklog.plan.queries.roster import problem_of
from rinklog.plan.roster.explain import Why, explain
from rinklog.plan.roster.problem import Pair, Problem
from rinklog.plan.roster.solve import Lack, NotProven, Proposal, propose
from rinklog.plan.services.roster import put_on
from rinklog.plan.words import permissions
from rinklog.web.access import At, on_rink
from rinklog.web.plan.board import first_night
from rinklog.web.plan.showing import letters

RULES = {
    "availability": lambda: _("nobody who could do it can come then"),
    "permissions": lambda: _("those who can come lack what everybody on it needs"),
    "rest": lambda: _("the rest between two shifts"),
    "week": lambda: _("the most shifts in seven days"),
}


@dataclass(frozen=True)
class Seat:
    """One person on one night of the proposal."""

    pair: str
    name: str
    letters: str
    state: str  # "there" already, "pinned" by the coordinator, or "proposed"


@dataclass(frozen=True)
class NightLine:
    """One night of the proposal."""

    shift: Shift
    seats: list[Seat]
    lacks: str
    others: list[tuple[str, str]]  # whom the coordinator could put there instead


@on_rink(Right.RUN_CREW)
def proposal(request: HttpRequest, at: At) -> HttpResponse:
    """Propose, around what is pinned and without what is crossed out."""
    now_on, problem = asked(request, at)
    try:
        found = propose(problem)
    except NotProven:
        messages.error(
            request, _("The roster could not be worked out in time; pin a few people and try again.")
        )
        return redirect("shift-board", slug=at.rink.slug)
    names = {str(hand.person.id): hand.person.name for hand in now_on.hands}
    context: dict[str, Any] = {
        "lines": [line(shift, found, names, request) for shift in shifts_of(now_on, problem)],
        "people": [(why, names[why.worker], said(why, found)) for why in explain(found)],
        "new": len(found.pairs - there(now_on, problem)),
        "pairs": [text_of(pair) for pair in sorted(found.pairs - there(now_on, problem))],
        "banned": [text_of(pair) for pair in sorted(problem.banned)],
        "proposal_id": uuid4(),
        "first": now_on.first,
        "rules": problem.rules,
    }
    return render(request, "plan/roster.html", context)


@on_rink(Right.RUN_CREW)
@require_POST
def accept(request: HttpRequest, at: At) -> HttpResponse:
    """Put on whom the proposal names."""
    now_on, _problem = asked(request, at)
    people = {str(hand.person.id): hand.person for hand in now_on.hands}
    shifts = {str(shift.id): shift for shift in now_on.shifts}
    wanted = [pair for pair in map(pair_of, request.POST.getlist("pair")) if pair]
    chosen = [(people[who], shifts[where]) for who, where in wanted if who in people and where in shifts]
    skilled = {
        who: len(now_on.held(people[who].id, shifts[where]))
        for who, where in wanted
        if who in people and where in shifts
    }
    chosen.sort(key=lambda one: -skilled[str(one[0].id)])
    refused = put_on(proposal=proposal_id(request), pairs=chosen, by=at.person, now=at.now)
    for sentence in refused:
        messages.error(request, sentence)
    done = len(chosen) - len(refused)
    if done:
        said_so = ngettext("%(n)d place is filled and told.", "%(n)d places are filled and told.", done)
        messages.success(request, said_so % {"n": done})
    return redirect("shift-board", slug=at.rink.slug)


def asked(request: HttpRequest, at: At) -> tuple[Board, Problem]:
    """The board and the problem that the address asks for."""
    now_on = board(at.rink, at.season, first_night(request, at), at.now)
    pinned: set[Pair] = set()
    banned: set[Pair] = set()
    for name, value in request.GET.items():
        if name.startswith("say-") and (pair := pair_of(name[4:])):
            (pinned if value == "pin" else banned if value == "not" else set()).add(pair)
        if name.startswith("add-") and value and (pair := pair_of(f"{value}.{name[4:]}")):
            pinned.add(pair)
    banned |= {pair for pair in map(pair_of, request.GET.getlist("not")) if pair}
    return now_on, problem_of(now_on, at.now, pinned=pinned, banned=banned - pinned)


def shifts_of(now_on: Board, problem: Problem) -> list[Shift]:
    """The shifts of the problem, in order."""
    return [shift for shift in now_on.shifts if str(shift.id) in problem.night]


def there(now_on: Board, problem: Problem) -> set[Pair]:
    """Who is on already."""
    return {
        (str(place.person_id), str(shift.id))
        for shift in shifts_of(now_on, problem)
        for place in shift.standing_places  # type: ignore[attr-defined]
    }


def line(shift: Shift, found: Proposal, names: dict[str, str], request: HttpRequest) -> NightLine:
    """One night with who is on it, who is proposed, and what it lacks."""
    already = {str(place.person_id) for place in shift.standing_places}  # type: ignore[attr-defined]
    on = [
        who for who, where in sorted(found.pairs, key=lambda pair: names[pair[0]]) if where == str(shift.id)
    ]
    fixed = {who for who, where in found.problem.fixed if where == str(shift.id)}
    seats = [
        Seat(
            f"{who}.{shift.id}",
            names[who],
            letters(names[who]),
            "there" if who in already else "pinned" if who in fixed else "proposed",
        )
        for who in on
    ]
    lack = next((one for one in found.lacks if one.night == str(shift.id)), None)
    others = [(who, name) for who, name in names.items() if who not in on]
    return NightLine(shift, seats, lack_words(lack) if lack else "", others)


def lack_words(lack: Lack) -> str:
    """What a night lacks, and which rule stands in the way."""
    said = []
    if lack.people:
        said.append(
            ngettext("%(n)d person missing", "%(n)d people missing", lack.people) % {"n": lack.people}
        )
    if lack.skills:
        said.append(_("nobody with: %(skills)s") % {"skills": permissions(lack.skills)})
    if lack.rules:
        said.append(_("in the way: %(rules)s") % {"rules": "; ".join(RULES[rule]() for rule in lack.rules)})
    else:
        said.append(_("the crew is too small for it, or more than one rule stands in the way"))
    return "; ".join(said)


def said(why: Why, found: Proposal) -> str:
    """Why somebody has what they have, in words."""
    if why.key == "on":
        words = [
            _("%(before)s h so far, %(after)s h with it")
            % {"before": hours(why.minutes_before), "after": hours(why.minutes_after)}
        ]
        if why.brings:
            words.append(_("the only one with: %(skills)s") % {"skills": permissions(why.brings)})
        if why.liked:
            words.append(_("wished for"))
        if why.disliked:
            words.append(_("would rather not, but nobody else could without being further ahead in hours"))
        return ", ".join(words)
    if why.key == "lacks":
        return _("not asked: lacks %(missing)s") % {"missing": permissions(why.missing)}
    if why.key == "no-night":
        return _("not asked: can come on none of these nights, or is on other shifts")
    if why.key == "had-more":
        return _("not asked: %(before)s h so far, more than anybody proposed") % {
            "before": hours(why.minutes_before)
        }
    return _("not needed: %(before)s h so far; others fill every night that could be theirs") % {
        "before": hours(why.minutes_before)
    }


def hours(minutes: int) -> str:
    """Minutes as hours, at most one digit behind the point."""
    return f"{minutes / 60:.1f}".removesuffix(".0")


def text_of(pair: Pair) -> str:
    """A pair as the form carries it."""
    return f"{pair[0]}.{pair[1]}"


def pair_of(text: str) -> Pair | None:
    """A pair from the form, if it is one."""
    who, _dot, where = text.partition(".")
    try:
        return str(UUID(who)), str(UUID(where))
    except ValueError:
        return None


def proposal_id(request: HttpRequest) -> UUID:
    """The id of the proposal that is accepted: the same post twice puts nobody on twice."""
    try:
        return UUID(request.POST.get("id", ""))
    except ValueError:
        return uuid4()
