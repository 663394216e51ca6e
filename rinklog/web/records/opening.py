"""Open, partly open or closed: what it is now, what it was, and the form that changes it."""

from typing import Any
from uuid import UUID

from django import forms
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.rights import Right
from rinklog.records import queries
from rinklog.records.models import Opening
from rinklog.records.services import set_opening
from rinklog.records.writing import Saved
from rinklog.web.access import At, on_rink
from rinklog.web.fields import LocalTimeField
from rinklog.web.records.grades import grade_field
from rinklog.web.records.suggesting import closing, proposal, suggestions
from rinklog.web.records.taking import OneOf, RecordForm, take

A_PAGE = 50


class OpeningForm(RecordForm):
    """State, reason, until when, and the condition of the ice."""

    state = OneOf(label=lazy("State"), choices=Opening.State.choices, widget=forms.RadioSelect)
    reason = forms.CharField(label=lazy("Reason"), required=False, max_length=200)
    until = LocalTimeField(label=lazy("Until"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.grades = queries.grades(self.at.rink)
        self.fields["grade"] = grade_field(self.grades, self.replaces)

    @classmethod
    def start(cls, at: At, replaces: Any) -> dict[str, Any]:
        start = super().start(at, replaces)
        if replaces is not None:
            start |= {name: getattr(replaces, name) for name in ("state", "reason", "until", "grade")}
        return start


@on_rink(Right.SEE)
def opening(request: HttpRequest, at: At) -> HttpResponse:
    """What the rink is now and every change, the latest first."""
    page = Paginator(queries.openings(at.rink), A_PAGE).get_page(request.GET.get("page"))
    context = {
        "opening": queries.current_opening(at.rink, at.now),
        "page": page,
        "public": queries.publicity(at.rink),
        "suggestions": suggestions(at) if at.may(Right.SET_OPEN) else [],
    }
    return render(request, "records/opening.html", context)


@on_rink(Right.SET_OPEN)
def change(request: HttpRequest, at: At, replaces: UUID | None = None) -> HttpResponse:
    """Set the rink open, partly open or closed, or correct an earlier change."""
    corrected = at.record(Opening, replaces) if replaces else None
    form = OpeningForm.of(request, at, corrected)
    if corrected is None and "close" in request.GET:
        form.initial |= closing(at, request.GET["close"])

    def save() -> Saved:
        data = form.cleaned_data
        return set_opening(
            writing=form.writing(),
            state=data["state"],
            reason=data["reason"],
            until=data["until"],
            grade=data["grade"],
        )

    def show(status: int, existing: Opening | None = None) -> HttpResponse:
        context = {
            "form": form,
            "corrected": corrected,
            "existing": existing,
            "in_conflict": status == 409,
            "opening": queries.current_opening(at.rink, at.now),
            "suggestions": suggestions(at),
            "proposal": proposal(at.rink, at.now),
        }
        return render(request, "records/opening_form.html", context, status=status)

    return take(
        request, form, save=save, show=show, done=lambda saved: redirect("opening", slug=at.rink.slug)
    )
