"""Shifts for whoever does them: nights to fill, one's own, and one tap to take, give back or pass on."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.queries import crew_of
from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.plan.models import HandOver, Shift, ShiftPlace
from rinklog.plan.queries import hand_over as queries_hand_over
from rinklog.plan.queries import shifts as queries
from rinklog.plan.queries.board import open_places
from rinklog.plan.queries.cold import coldest
from rinklog.plan.services import places
from rinklog.plan.words import permissions
from rinklog.web.access import At, on_rink
from rinklog.web.panels import reply
from rinklog.web.plan.reasons import question_words
from rinklog.web.plan.showing import shown

AHEAD = dt.timedelta(days=60)
NEAR = dt.timedelta(days=3)  # within reach of every forecast


@on_rink(Right.SEE)
def shifts(request: HttpRequest, at: At) -> HttpResponse:
    """Nights to fill first, then one's own and the others."""
    return listing(request, at)


def listing(request: HttpRequest, at: At, refused: str = "", about: UUID | None = None) -> HttpResponse:
    """The list, with what was refused beside the shift it is about."""
    rows = [
        shown(one, at.person.id) for one in queries.ahead(at.rink, at.now) if one.starts_at < at.now + AHEAD
    ]
    context = {
        "to_fill": [row for row in rows if row.open and not row.mine],
        "mine": [row for row in rows if row.mine],
        "others": [row for row in rows if not row.open and not row.mine],
        "offers": [(place, uuid4()) for place in queries.offers_to(at.person, at.rink, at.now)],
        "hand_over": unread(at),
        "refused": refused,
        "about": about,
    }
    return reply(request, "plan/shifts.html", "plan/_shifts.html", context, status=409 if refused else 200)


@on_rink(Right.SEE)
def shift(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One shift."""
    return shift_page(request, at, at.shift(id))


def shift_page(
    request: HttpRequest, at: At, one: Shift, refused: str = "", status: int = 200, **more: Any
) -> HttpResponse:
    """The page of one shift, with a sentence when something was refused."""
    row = shown(one, at.person.id)
    is_near = at.now < one.ends_at and one.starts_at < at.now + NEAR
    context = {
        "row": row,
        "shift": one,
        "events": queries.events(one),
        "crew": [person for person in crew_of(at.rink) if person.id != at.person.id] if row.mine else [],
        "refused": refused,
        "is_over": one.ends_at <= at.now,
        "still_open": open_places(one),
        "cold": coldest(at.rink, max(one.starts_at, at.now), one.ends_at) if is_near else None,
        "decides": at.may(Right.RUN_CREW) or bool(row.mine and row.mine.leads),
        "is_near": is_near,
        "hand_over": queries_hand_over.latest(at.rink) if is_near and row.mine else None,
        "question": question_words(one.question),
        "skills": permissions(one.skills),
        "everybody": permissions(one.everybody),
    }
    return render(request, "plan/shift.html", context | more, status=409 if refused else status)


@on_rink(Right.LOG)
@require_POST
def take(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take a place: the tap of a volunteer. Of two at once one is told here and now that it is gone."""
    one = at.shift(id)
    try:
        places.take(id=posted_id(request), shift=one, person=at.person, by=at.person, now=at.now)
    except (Refused, Conflict) as error:
        sentence = str(error.sentence) if isinstance(error, Refused) else _("That place is somebody else's.")
        return listing(request, at, refused=sentence, about=one.id)
    if getattr(request, "htmx", False):
        return listing(request, at)
    messages.success(request, _("You are on."))
    return redirect("shift", slug=at.rink.slug, id=one.id)


@on_rink(Right.LOG)
@require_POST
def leave(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Give one's own place back; a coordinator takes anybody off."""
    place = my_place(at, id)
    places.give_back(place=place, by=at.person, now=at.now)
    if request.POST.get("next") == "board" and at.may(Right.RUN_CREW):
        return redirect("shift-board", slug=at.rink.slug)
    messages.success(request, _("The place is open again."))
    return redirect("shift", slug=at.rink.slug, id=place.shift_id)


@on_rink(Right.LOG)
@require_POST
def offer(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Ask somebody to take one's place over."""
    place = my_place(at, id)
    person = next((one for one in crew_of(at.rink) if str(one.id) == request.POST.get("to")), None)
    if person is None:
        return shift_page(request, at, at.shift(place.shift_id), refused=_("Choose somebody of the crew."))
    try:
        places.offer(place=place, to=person, by=at.person, now=at.now)
    except Refused as refused:
        return shift_page(request, at, at.shift(place.shift_id), refused=str(refused.sentence))
    messages.success(request, _("%(name)s is asked. Until then it stays yours.") % {"name": person.name})
    return redirect("shift", slug=at.rink.slug, id=place.shift_id)


@on_rink(Right.LOG)
@require_POST
def answer(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take over a place that somebody offers, or say no."""
    place = at.shift_place(id)
    if request.POST.get("answer") == "no":
        places.decline(place=place, by=at.person, now=at.now)
        return redirect("shifts", slug=at.rink.slug)
    try:
        places.accept(id=posted_id(request), place=place, by=at.person, now=at.now)
    except (Refused, Conflict) as error:
        sentence = str(error.sentence) if isinstance(error, Refused) else _("That place is somebody else's.")
        return listing(request, at, refused=sentence, about=place.shift_id)
    return redirect("shift", slug=at.rink.slug, id=place.shift_id)


def unread(at: At) -> HandOver | None:
    """The last hand-over, if this person works here and has not read it."""
    last = queries_hand_over.latest(at.rink) if at.may(Right.LOG) else None
    return last if last and at.person.id not in {read.person_id for read in last.read.all()} else None


def my_place(at: At, id: UUID) -> ShiftPlace:
    """One's own place, or anybody's for whoever runs the crew; else 404."""
    place = at.shift_place(id)
    if place.person_id != at.person.id and not at.may(Right.RUN_CREW):
        raise Http404
    return place


def posted_id(request: HttpRequest) -> UUID:
    """The id the form made for this tap; a tap without one gets its own."""
    try:
        return UUID(request.POST.get("id", ""))
    except ValueError:
        return uuid4()
