"""Accidents and near misses: anyone on the crew writes, keeper and coordinators read."""

from typing import Any
from uuid import UUID

from django import forms
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.rights import Right
from rinklog.records import queries
from rinklog.records.models import AccidentReport
from rinklog.records.services import Accident, report_accident
from rinklog.records.writing import Saved
from rinklog.web.access import At, on_rink
from rinklog.web.fields import QuantityField
from rinklog.web.photos.strip import empty_strip, strip
from rinklog.web.records.taking import OneOf, RecordForm, take

A_PAGE = 30
WORDS = ("where", "what_happened", "injury", "help_given", "witnesses", "ice_condition")


def long_text(label: Any, required: bool = False) -> forms.CharField:
    """A field for a few lines of text."""
    widget = forms.Textarea(attrs={"rows": 3})
    return forms.CharField(label=label, required=required, max_length=4000, widget=widget)


class AccidentForm(RecordForm):
    """What happened, to whom it was bad, and what was done about it."""

    kind = OneOf(
        label=lazy("Kind"),
        choices=[("accident", lazy("an accident")), ("near-miss", lazy("a near miss"))],
        widget=forms.RadioSelect,
        initial="accident",
    )
    where = forms.CharField(label=lazy("Where"), required=False, max_length=200)
    what_happened = long_text(lazy("What happened"), required=True)
    injury = long_text(lazy("Injury"))
    help_given = long_text(lazy("Help given"))
    witnesses = forms.CharField(label=lazy("Who saw it"), required=False, max_length=300)
    ice_condition = forms.CharField(label=lazy("Condition of the ice there"), required=False, max_length=200)
    seen_air = QuantityField(
        label=lazy("Air temperature"), quantity="temperature", lowest=-60, highest=50, required=False
    )

    @classmethod
    def start(cls, at: At, replaces: Any) -> dict[str, Any]:
        start = super().start(at, replaces)
        if replaces is not None:
            start |= {name: getattr(replaces, name) for name in WORDS}
            start |= {
                "kind": "near-miss" if replaces.near_miss else "accident",
                "seen_air": replaces.seen_air_c,
            }
        return start

    def accident(self) -> Accident:
        """What was said. Call after is_valid()."""
        data = self.cleaned_data
        return Accident(
            near_miss=data["kind"] == "near-miss",
            seen_air_c=data["seen_air"],
            **{name: data[name].strip() for name in WORDS},
        )


@on_rink(Right.SEE_ACCIDENTS)
def accidents(request: HttpRequest, at: At) -> HttpResponse:
    """Every report, the latest first."""
    page = Paginator(queries.standing(AccidentReport, at.rink), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "records/accidents.html", {"page": page})


@on_rink(Right.SEE_ACCIDENTS)
def accident(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One report, what it corrects and what corrected it."""
    return render(request, "records/accident.html", shown(at, at.record(AccidentReport, id)))


@on_rink(Right.LOG)
def receipt(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """The report as it was received, for its writer and its readers; nobody else."""
    return render(request, "records/accident_receipt.html", shown(at, readable(at, id)))


@on_rink(Right.LOG)
def report(request: HttpRequest, at: At, replaces: UUID | None = None) -> HttpResponse:
    """Report an accident or a near miss, or correct a report."""
    corrected = readable(at, replaces) if replaces else None
    form = AccidentForm.of(request, at, corrected)

    def save() -> Saved:
        return report_accident(writing=form.writing(), accident=form.accident())

    def show(status: int, existing: Any = None) -> HttpResponse:
        context = {
            "form": form,
            "corrected": corrected,
            "existing": existing if existing is not None and may_read(at, existing) else None,
            "in_conflict": status == 409,
        }
        return render(request, "records/accident_form.html", context, status=status)

    def done(saved: Saved) -> HttpResponse:
        return redirect("accident-receipt", slug=at.rink.slug, id=saved.record.id)

    return take(request, form, save=save, show=show, done=done)


def may_read(at: At, one: AccidentReport) -> bool:
    """The readers of all reports, and the writer of this one."""
    return at.may(Right.SEE_ACCIDENTS) or one.by_id == at.person.id


def readable(at: At, id: UUID) -> AccidentReport:
    """A report that this person may read and correct, or 404."""
    one = at.record(AccidentReport, id)
    if not may_read(at, one):
        raise Http404
    return one


def shown(at: At, one: AccidentReport) -> dict[str, Any]:
    """What the page of a report needs."""
    photos_of = queries.first_of(one).id
    # Its writer adds photos, and sees others' no more than others' reports.
    reads = at.may(Right.SEE_ACCIDENTS)
    pictures = strip(at, "record", photos_of) if reads else empty_strip("record", photos_of)
    return {"report": one, "strip": pictures}
