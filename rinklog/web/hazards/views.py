"""Hazards: the list, putting a marker up, one hazard with its history, and what happens to it."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from rinklog.crew.rights import Right
from rinklog.rink.models import Grid
from rinklog.rink.queries import grid_holding, zones
from rinklog.web.access import At, on_rink
from rinklog.web.hazards.forms import SAYABLE, WINDS, HazardForm, SayForm, cone_in
from rinklog.web.hazards.pairs import pairs
from rinklog.web.photos.intake import take_all
from rinklog.web.photos.strip import empty_strip, strip
from rinklog.web.photos.views import as_uuid, say_refusals
from rinklog.web.rinkmap.drawing import draw, from_the_top
from rinklog.web.rinkmap.marks import CODES, codes, marks
from rinklog.work import hazard_queries as queries
from rinklog.work import hazards as services
from rinklog.work.cones import cone_id, cone_of, put_cone
from rinklog.work.errors import Conflict, Refused
from rinklog.work.kinds import KINDS
from rinklog.work.models import Hazard

PAGE_ROWS = 50
UNDO_WITHIN = dt.timedelta(minutes=10)


@on_rink(Right.SEE)
@require_safe
def listing(request: HttpRequest, at: At) -> HttpResponse:
    """The hazards, by state and by kind."""
    state, kind = request.GET.get("state", "open"), request.GET.get("kind", "")
    states = [("open", _("open")), *STATES_SHOWN, ("all", _("all"))]
    if state not in dict(states) or (kind and kind not in Hazard.Kind.values):
        raise Http404
    page = Paginator(queries.shown(at.rink, state=state, kind=kind), PAGE_ROWS).get_page(
        request.GET.get("page")
    )
    context = {
        "page": page,
        "state": state,
        "kind": kind,
        "states": states,
        "kinds": Hazard.Kind.choices,
        "codes": {code.kind: code for code in codes()},
    }
    return render(request, "hazards/list.html", context)


STATES_SHOWN = [choice for choice in Hazard.State.choices if choice[0] != Hazard.State.WITHDRAWN]


@on_rink(Right.LOG)
def put_up(request: HttpRequest, at: At) -> HttpResponse:
    """Show and take the form of a hazard marker."""
    if request.method != "POST":
        initial = HazardForm.defaults(at, queries.last_kind(at.rink, at.person), request.GET)
        return form_page(request, at, HazardForm(initial=initial, at=at, grid=at.season.grid))
    form = HazardForm(request.POST, at=at, grid=written_on(at, request.POST))
    if not form.is_valid():
        return form_page(request, at, form, status=422)
    try:
        saved = save(form, at)
    except Conflict as conflict:
        return form_page(request, at, form, status=409, existing=conflict.existing, conflict=True)
    except Refused as refused:
        form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        return form_page(request, at, form, status=422)
    say_refusals(request, take_all(request, at, "hazard", saved.hazard.id, saved.hazard.id))
    if saved.made:
        messages.success(request, _("Hazard %(number)d is on the map.") % {"number": saved.hazard.number})
    return redirect("hazard", slug=at.rink.slug, id=saved.hazard.id)


def written_on(at: At, post: QueryDict) -> Grid:
    """The grid of the zones picked: of this season, or an older one that they were picked on without a signal."""
    picked = {int(zone) for zone in post.getlist("zones") if zone.isdecimal()}
    shown = at.season.grid
    elsewhere = picked - {zone.id for zone in zones(shown)}
    return (grid_holding(at.rink, picked) or shown) if elsewhere else shown


def save(form: HazardForm, at: At) -> services.RecordedHazard:
    """Record what a valid form holds."""
    content = form.content()
    saved = services.record_hazard(
        id=form.cleaned_data["id"],
        rink=at.rink,
        content=content,
        by=at.person,
        now=at.now,
        local_day=content.found_at.astimezone(at.zone).date(),
        sent_at=form.sent_at,
    )
    note_cone(at, form, saved.hazard, content.found_at)
    return saved


def note_cone(at: At, form: forms.Form, shown: Hazard, when: dt.datetime) -> None:
    """Keep which numbered cone stands there, once a form."""
    data = form.cleaned_data
    if number := data.get("cone_number"):
        put_cone(id=cone_id(data["id"]), hazard=shown, number=number, at=when, by=at.person, now=at.now)


def form_page(request: HttpRequest, at: At, form: HazardForm, status: int = 200, **more: Any) -> HttpResponse:
    """The form with its map."""
    grid, new_id = form.grid, uuid4()
    grid_zones = zones(grid)
    context = {
        "form": form,
        "drawing": draw(grid, grid_zones),
        "zones_from_the_top": from_the_top(grid_zones),
        "picked": form.picked_zones(),
        "length_m": grid.length_m,
        "width_m": grid.width_m,
        "codes": codes(),
        "new_id": new_id,
        "strip": empty_strip(
            "hazard", new_id if more.get("conflict") else as_uuid(str(form["id"].value())) or new_id
        ),
    }
    return render(request, "hazards/new.html", context | more, status=status)


@on_rink(Right.SEE)
@require_safe
def hazard(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One hazard: what it is, where, what happened to it, what was tried on it."""
    return hazard_page(request, at, at.hazard(id))


def hazard_page(
    request: HttpRequest, at: At, shown: Hazard, say_form: SayForm | None = None, status: int = 200
) -> HttpResponse:
    """The page of a hazard, with what may be said of it now."""
    events = list(queries.history(shown))
    shape, letter = CODES[shown.kind]
    context = {
        "hazard": shown,
        "shape": shape,
        "letter": letter,
        "zones": list(shown.zones.all()),
        "drawing": draw(shown.grid, zones(shown.grid)),
        "marks": marks([shown], shown.grid),
        "wind_from": wind_words(shown.wind_from_deg),
        "events": events,
        "undoable": {event.id for event in events if may_undo(event, at)},
        "say": say_form or SayForm(initial={"id": uuid4(), "cone_number": cone_in(request.GET)}, at=at),
        "asked_cone": cone_in(request.GET),
        "cone_number": cone_of(shown),
        "sayable": [(key, words) for key, words in SAYABLE if key != shown.state],
        "repairs": pairs(at, shown),
        "strip": strip(at, "hazard", shown.id),
        "repair_kinds": [kind for kind in KINDS.values() if kind.repairs],
        "withdrawable": may_withdraw(shown, at),
    }
    return render(request, "hazards/hazard.html", context, status=status)


def wind_words(degrees: float | None) -> str:
    """A wind's direction as people say it."""
    return "" if degrees is None else str(WINDS.get(f"{degrees:g}", f"{degrees:g}°"))


def may_undo(event: Any, at: At) -> bool:
    """Whether one tap still takes this back."""
    fixed = event.state in (Hazard.State.FOUND, Hazard.State.WITHDRAWN) or event.entry_id or event.undone_at
    return not fixed and event.by_id == at.person.id and at.now - event.recorded_at <= UNDO_WITHIN


def may_withdraw(shown: Hazard, at: At) -> bool:
    """Whether this person may call it a mistake: who put it up, and who may amend what others wrote."""
    if shown.state == Hazard.State.WITHDRAWN or not at.may(Right.LOG):
        return False
    return shown.by_id == at.person.id or at.may(Right.AMEND_ANY)


@on_rink(Right.LOG)
@require_POST
def say(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Say what happened to a hazard."""
    shown = at.hazard(id)
    form = SayForm(request.POST, at=at)
    if not form.is_valid():
        return hazard_page(request, at, shown, form, status=422)
    data = form.cleaned_data
    try:
        services.add_event(
            id=data["id"],
            hazard=shown,
            state=data["state"],
            at=data["said_at"],
            cone_out=form.cone_out,
            note=data["note"],
            by=at.person,
            now=at.now,
        )
        note_cone(at, form, shown, data["said_at"] or at.now)
    except Refused as refused:
        form.add_error("said_at" if refused.field == "at" else None, str(refused.sentence))
        return hazard_page(request, at, shown, form, status=422)
    except Conflict:
        form.add_error(
            None, _("Something else was already said with this form. Yours is below: send it again.")
        )
        form.data = {**request.POST.dict(), "id": str(uuid4())}
        return hazard_page(request, at, shown, form, status=409)
    return redirect("hazard", slug=at.rink.slug, id=shown.id)


@on_rink(Right.LOG)
@require_POST
def withdraw(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take a mistaken hazard off the map, with the reason."""
    shown = at.hazard(id)
    if shown.state != Hazard.State.WITHDRAWN and not may_withdraw(shown, at):
        raise Http404
    try:
        services.withdraw_hazard(
            id=uuid4(), hazard=shown, reason=request.POST.get("reason", ""), by=at.person, now=at.now
        )
    except Refused as refused:
        messages.error(request, str(refused.sentence))
        return hazard_page(request, at, shown, status=422)
    messages.success(request, _("Hazard %(number)d is withdrawn.") % {"number": shown.number})
    return redirect("hazards", slug=at.rink.slug)


@on_rink(Right.LOG)
@require_POST
def undo(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take back what was just said of a hazard."""
    event = at.hazard_event(id)
    try:
        services.undo_event(event=event, by=at.person, now=at.now, within=UNDO_WITHIN)
    except Refused as refused:
        messages.error(request, str(refused.sentence))
        return hazard_page(request, at, event.hazard, status=422)
    return redirect("hazard", slug=at.rink.slug, id=event.hazard_id)
