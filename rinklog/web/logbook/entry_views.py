"""One entry: its page with the history, and what happens to it later with one tap."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.advice.queries import prediction_of
from rinklog.advice.wording import chance_text
from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.ice.queries import hole_question
from rinklog.photos.models import Photo
from rinklog.rink.queries import rule_value, zones
from rinklog.web.access import At, on_rink
from rinklog.web.logbook.event_form import EventForm, ReasonForm
from rinklog.web.logbook.facts import facts
from rinklog.web.logbook.history import history
from rinklog.web.photos.strip import strip
from rinklog.web.rinkmap.drawing import draw
from rinklog.web.weather.words import of_entry
from rinklog.work import entry_events, log_queries, services
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry, Kind
from rinklog.work.repair_queries import said_by_lineage


@on_rink(Right.SEE)
def entry(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One entry with its history."""
    return render(request, "logbook/entry.html", entry_context(at, at.entry(id)))


@on_rink(Right.LOG)
@require_POST
def event(request: HttpRequest, at: At, id: UUID, what: str) -> HttpResponse:
    """Say that an entry is set, frozen through, or its cover lifted."""
    happened_to = at.entry(id)
    form = EventForm(request.POST, at=at, kind=happened_to.kind, what=what)
    try:
        if not form.is_valid():
            raise Refused("what", form.sentence)
        done = entry_events.add_event(
            id=form.cleaned_data["id"],
            entry=happened_to,
            what=what,
            by=at.person,
            now=at.now,
            at=form.cleaned_data["at"],
            details={"result": form.cleaned_data["result"]} if form.cleaned_data["result"] else {},
        )
    except Refused as refused:
        return refused_page(request, at, happened_to, str(refused.sentence))
    except Conflict:
        sentence = _("This entry no longer counts, or another version of this is already recorded.")
        return refused_page(request, at, happened_to, sentence, status=409)
    if request.POST.get("next") == "home":
        return redirect(reverse("home", kwargs={"slug": at.rink.slug}) + f"?done={done.event.id}")
    return redirect("entry", slug=at.rink.slug, id=happened_to.root_id)


@on_rink(Right.LOG)
@require_POST
def undo(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take back what was just saved: the entry, or the amendment, with this id."""
    saved = at.entry(id)
    try:
        services.undo_entry(id=uuid4(), entry=saved, by=at.person, now=at.now, within=undo_time(at))
    except Refused as refused:
        return refused_page(request, at, saved, str(refused.sentence))
    messages.success(request, _("Undone. It counts no more; the history keeps it."))
    return redirect("entry", slug=at.rink.slug, id=saved.root_id)


@on_rink(Right.LOG)
@require_POST
def undo_event(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take back what was just said of an entry."""
    event = at.entry_event(id)
    try:
        entry_events.undo_event(event=event, by=at.person, now=at.now, within=undo_time(at))
    except Refused as refused:
        return refused_page(request, at, event.root, str(refused.sentence))
    messages.success(request, _("Taken back."))
    if request.POST.get("next") == "home":
        return redirect("home", slug=at.rink.slug)
    return redirect("entry", slug=at.rink.slug, id=event.root_id)


@on_rink(Right.LOG)
def withdraw(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Withdraw an entry with a reason."""
    withdrawn = at.own_entry(id)
    form = ReasonForm(request.POST or None, initial={"id": uuid4()})
    status = 200
    if request.method == "POST":
        status = 422
        try:
            if form.is_valid():
                data = form.cleaned_data
                services.withdraw_entry(
                    id=data["id"], entry=withdrawn, reason=data["reason"], by=at.person, now=at.now
                )
                return redirect("entry", slug=at.rink.slug, id=withdrawn.root_id)
        except Refused as refused:
            form.add_error("reason", str(refused.sentence))
        except Conflict:
            sentence = _("This entry was undone; there is nothing left to withdraw.")
            return refused_page(request, at, withdrawn, sentence, status=409)
    context = entry_context(at, withdrawn) | {"form": form}
    return render(request, "logbook/withdraw.html", context, status=status)


def refused_page(
    request: HttpRequest, at: At, about: Entry, sentence: str, status: int = 422
) -> HttpResponse:
    """The entry's page with the sentence that says why not."""
    return render(
        request, "logbook/entry.html", entry_context(at, about) | {"refusal": sentence}, status=status
    )


def undo_time(at: At) -> dt.timedelta:
    """For how long one tap takes back what was saved."""
    return dt.timedelta(minutes=rule_value(at.rink, "undo_minutes"))


def entry_context(at: At, asked: Entry) -> dict[str, Any]:
    """What the page of an entry needs, whichever of its revisions was asked for."""
    revisions = log_queries.revisions(asked.root_id)
    current = log_queries.current_of(revisions)
    events = log_queries.all_events(asked.root_id)
    counting = {event.what: event for event in events if event.undone_at is None}
    said = [event for event in said_by_lineage(asked.root_id) if event.undone_at is None]
    standing = current.state == Entry.State.STANDING
    within = undo_time(at)
    own = at.person.id in (current.by_id, current.root.by_id) or at.may(Right.AMEND_ANY)
    return {
        "entry": current,
        "kind": KINDS[current.kind],
        "facts": facts(current, at.zone),
        "weather": of_entry(at.rink, current, at.zone),
        "said_of_hazards": said,
        "prediction": prediction_line(current, at),
        "hole_question": hole_question(at.rink, current.id) if current.kind == Kind.DRILL_HOLE else None,
        "events": counting,
        "next_events": next_events(current, counting) if standing and at.may(Right.LOG) else [],
        "strip": strip(at, Photo.Subject.ENTRY, asked.root_id, moments=KINDS[current.kind].repairs),
        "steps": history(revisions, events, at.zone),
        "can_change": standing and own and at.may(Right.LOG),
        "undo_until": current.recorded_at + within
        if standing and current.by_id == at.person.id and at.now - current.recorded_at <= within
        else None,
        "undoable_events": {
            event.id
            for event in counting.values()
            if event.by_id == at.person.id and at.now - event.recorded_at <= within and event.what != "undone"
        },
        "drawing": draw(current.grid, zones(current.grid)),
        "last_zones": {row.zone_id for row in current.zones.all()},
    }


def prediction_line(entry: Entry, at: At) -> dict[str, Any] | None:
    """What was said of a flood before it was made."""
    made = prediction_of(entry) if entry.kind == Kind.FLOOD else None
    if made is None or made.middle_h is None:
        return None
    frozen = made.began_at + dt.timedelta(hours=made.middle_h)
    return {"frozen": frozen, "chance": chance_text(made.chance), "deadline": made.deadline_at}


def next_events(entry: Entry, counting: dict[str, Any]) -> list[dict[str, Any]]:
    """The one-tap buttons that still make sense: with the id the event will have."""
    return [
        {"what": what, "id": uuid4(), "closing": KINDS[entry.kind].closing if what == "lifted" else None}
        for what in entry_events.possible(entry)
        if what not in counting
    ]
