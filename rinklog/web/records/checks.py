"""The daily walk and the formal inspections: going through a list, and looking up who went through it."""

from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from rinklog.crew.rights import Right
from rinklog.records import queries
from rinklog.records.models import Check, ChecklistItem
from rinklog.records.services import record_check
from rinklog.records.writing import Saved
from rinklog.web.access import At, on_rink
from rinklog.web.photos.intake import take_all
from rinklog.web.photos.strip import empty_strip, strip
from rinklog.web.photos.views import say_refusals
from rinklog.web.records.check_forms import CheckForm
from rinklog.web.records.taking import take

List = ChecklistItem.List
FORMAL = (List.SITE, List.BOARDS, List.AFTER)
EVERYDAY = (List.WALK, List.MACHINES)
A_PAGE = 30


@on_rink(Right.SEE)
def walks(request: HttpRequest, at: At) -> HttpResponse:
    """Every daily walk and machine check, the latest first."""
    page = Paginator(queries.checks(at.rink, EVERYDAY), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "records/walks.html", {"page": page})


@on_rink(Right.SEE)
def inspections(request: HttpRequest, at: At) -> HttpResponse:
    """The formal inspections: which there are, and every one made."""
    page = Paginator(queries.checks(at.rink, FORMAL), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "records/inspections.html", {"page": page, "lists": FORMAL})


@on_rink(Right.SEE)
def check(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One walk or inspection with its lines, what it corrects and what corrected it."""
    shown = at.record(Check, id)
    context = {
        "check": shown,
        "lines": shown.lines.all(),
        "strip": strip(at, "record", queries.first_of(shown).id),
        "may_correct": may_correct(at, shown),
    }
    return render(request, "records/check.html", context)


@on_rink(Right.LOG)
def walk(request: HttpRequest, at: At, replaces: UUID | None = None) -> HttpResponse:
    """Go through the daily walk, or correct one."""
    corrected = at.record(Check, replaces) if replaces else None
    list = List.MACHINES if corrected and corrected.list == List.MACHINES else List.WALK
    return go_through(request, at, list, corrected)


@on_rink(Right.LOG)
def machines(request: HttpRequest, at: At) -> HttpResponse:
    """Go through hose and machines."""
    return go_through(request, at, List.MACHINES, None)


@on_rink(Right.INSPECT_FORMALLY)
def inspect(request: HttpRequest, at: At, list: str) -> HttpResponse:
    """Go through one of the formal inspections."""
    if list not in FORMAL:
        raise Http404
    return go_through(request, at, list, None)


@on_rink(Right.INSPECT_FORMALLY)
def correct_inspection(request: HttpRequest, at: At, replaces: UUID) -> HttpResponse:
    """Correct a formal inspection."""
    corrected = at.record(Check, replaces)
    return go_through(request, at, corrected.list, corrected)


def may_correct(at: At, shown: Check) -> bool:
    """A formal inspection: who may make one. A walk: who made it, and who may amend anything."""
    if shown.list not in EVERYDAY:
        return at.may(Right.INSPECT_FORMALLY)
    return at.may(Right.AMEND_ANY) or (at.may(Right.LOG) and shown.by_id == at.person.id)


def go_through(request: HttpRequest, at: At, list: str, corrected: Check | None) -> HttpResponse:
    """Show and take the form of a checklist."""
    if corrected is not None and (corrected.list != list or not may_correct(at, corrected)):
        raise Http404
    form = CheckForm.of(request, at, corrected, list=list)

    def save() -> Saved:
        data = form.cleaned_data
        return record_check(
            writing=form.writing(),
            list=list,
            lines=form.lines(),
            grade=data["grade"],
            told_whom=data["told_whom"],
        )

    def show(status: int, existing: Any = None) -> HttpResponse:
        photos_of = queries.first_of(corrected).id if corrected else form["id"].value()
        context = {
            "form": form,
            "strip": empty_strip("record", photos_of),
            "title": List(list).label,
            "corrected": corrected,
            "existing": existing,
            "in_conflict": status == 409,
        }
        return render(request, "records/check_form.html", context, status=status)

    def done(saved: Saved) -> HttpResponse:
        photos_of = queries.first_of(saved.record).id
        say_refusals(request, take_all(request, at, "record", photos_of, saved.record.id))
        return redirect("check", slug=at.rink.slug, id=saved.record.id)

    return take(request, form, save=save, show=show, done=done)
