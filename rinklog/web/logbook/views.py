"""Recording work and reading the log."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.queries import crew_of
from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.rink.queries import latest_flow_ls, rule_value, zones
from rinklog.web.access import At, on_rink
from rinklog.web.logbook.forms import FORMS, WorkForm
from rinklog.web.panels import reply
from rinklog.web.rinkmap.drawing import draw, from_the_top, quick_picks
from rinklog.work import queries, services
from rinklog.work.kinds import KINDS

PICK_TITLES = {
    "last": lazy("Last used"),
    "whole": lazy("Whole rink"),
    "near": lazy("Near end"),
    "far": lazy("Far end"),
    "boards": lazy("Along the boards"),
}


@on_rink(Right.LOG)
def record(request: HttpRequest, at: At, kind: str) -> HttpResponse:
    """Show and take the form of one kind of work."""
    form = build_form(request, at, kind)
    status = 200
    if request.method == "POST":
        if form.is_valid():
            try:
                saved = save(form, at)
            except Conflict as conflict:
                return conflict_page(request, at, form, conflict)
            except Refused as refused:
                form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
            else:
                return redirect("entry", slug=at.rink.slug, id=saved.entry.root_id)
        status = 422
    return render(request, "logbook/record.html", form_context(at, form), status=status)


@on_rink(Right.LOG)
def coat(request: HttpRequest, at: At) -> HttpResponse:
    """The coat that the flood being typed would make: water over the area of the picked zones."""
    form = build_form(request, at, "flood")
    form.is_valid()
    return reply(request, "logbook/_coat.html", "logbook/_coat.html", coat_context(at, form))


def save(form: WorkForm, at: At) -> services.Recorded:
    """Record what a valid form holds."""
    content = form.content()
    return services.record_entry(
        id=form.cleaned_data["id"],
        rink=at.rink,
        kind=form.kind,
        content=content,
        by=at.person,
        now=at.now,
        local_day=content.started_at.astimezone(at.zone).date(),
        sent_at=form.sent_at,
    )


def build_form(request: HttpRequest, at: At, kind: str) -> WorkForm:
    """The form of a kind, filled from the post or from smart defaults."""
    if kind not in FORMS:
        raise Http404
    form_class = FORMS[kind]
    common: dict[str, Any] = {"at": at, "zones": zones(at.season.grid), "crew": crew_of(at.rink)}
    if request.method == "POST":
        return form_class(request.POST, **common)
    last = queries.latest_of_kind(at.rink, kind, by=at.person) or queries.latest_of_kind(at.rink, kind)
    initial = form_class.defaults(at, last)
    if kind == "flood" and (flow := latest_flow_ls(at.rink)):
        initial["hose_flow_ls"] = flow
    return form_class(initial=initial, **common)


def form_context(at: At, form: WorkForm) -> dict[str, Any]:
    """What the form page needs."""
    context: dict[str, Any] = {
        "form": form,
        "kind": KINDS[form.kind],
        "kind_template": f"logbook/_{form.kind.replace('-', '_')}.html",
        "new_id": uuid4(),
    }
    context.update(picker_context(at, form))
    if form.kind == "flood":
        if form.is_bound:
            form.is_valid()
        context.update(coat_context(at, form))
    return context


def picker_context(at: At, form: WorkForm) -> dict[str, Any]:
    """What the zone picker draws: the sheet, its zones, and the quick picks."""
    season, grid_zones = at.season, form.grid_zones
    last = queries.latest_of_kind(at.rink, form.kind)
    ids = quick_picks(grid_zones, season.grid)
    if last is not None and last.grid_id == season.grid_id:
        ids["last"] = [row.zone_id for row in last.zones.all()]
    return {
        "drawing": draw(season.grid, grid_zones),
        "zones_from_the_top": from_the_top(grid_zones),
        "picked": form.picked_zones(),
        "picks": [
            {"key": key, "title": PICK_TITLES[key], "ids": ids[key]} for key in PICK_TITLES if key in ids
        ],
    }


def coat_context(at: At, form: WorkForm) -> dict[str, Any]:
    """Water, area and coat of the flood in the form, and whether the crew calls that too thick."""
    if form.is_bound:
        water_m3 = form.water_m3() if hasattr(form, "cleaned_data") else None
    else:
        water_m3 = form.initial.get("amount")
    area_m2 = form.area_m2()  # type: ignore[attr-defined]
    coat_m = water_m3 / area_m2 if water_m3 and area_m2 else None
    thickest_m = rule_value(at.rink, "coat_thickest_m")
    return {
        "water_m3": water_m3,
        "area_m2": area_m2,
        "coat_m": coat_m,
        "thickest_m": thickest_m,
        "too_thick": coat_m is not None and coat_m > thickest_m,
    }


def conflict_page(request: HttpRequest, at: At, form: WorkForm, conflict: Conflict) -> HttpResponse:
    """Both texts side by side: the one that is recorded and the one that was just sent."""
    context = form_context(at, form) | {"existing": conflict.existing}
    return render(request, "logbook/conflict.html", context, status=409)


@on_rink(Right.SEE)
def entry(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One entry with its history."""
    shown = at.entry(id)
    standing = queries.standing(at.rink).filter(root_id=shown.root_id).first() or shown
    return render(request, "logbook/entry.html", {"entry": standing, "kind": KINDS[standing.kind]})


@on_rink(Right.SEE)
def log(request: HttpRequest, at: At) -> HttpResponse:
    """The log by day."""
    entries = list(queries.standing(at.rink)[:50])
    return render(request, "logbook/log.html", {"days": by_day(entries, at), "title": _("Log")})


def by_day(entries: list[Any], at: At) -> list[tuple[dt.date, list[Any]]]:
    """Group entries by rink-local day, keeping their order."""
    days: dict[dt.date, list[Any]] = {}
    for one in entries:
        days.setdefault(one.started_at.astimezone(at.zone).date(), []).append(one)
    return list(days.items())
