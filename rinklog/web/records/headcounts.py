"""Skaters by the hour: one tap for one or five more, or a number for a whole hour."""

import datetime as dt
from typing import Any
from uuid import uuid4

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_POST

from rinklog import clock
from rinklog.crew.rights import Right
from rinklog.records import queries
from rinklog.records.services import MOST_SKATERS, count_skaters, hour_of
from rinklog.records.writing import Saved
from rinklog.web.access import At, on_rink
from rinklog.web.panels import reply
from rinklog.web.records.taking import RecordForm, take


class HeadcountForm(RecordForm):
    """How many, in the hour of which moment, and whether that is all of the hour."""

    skaters = forms.IntegerField(label=lazy("Skaters"), min_value=0, max_value=MOST_SKATERS)
    whole = forms.BooleanField(required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["when"].label = _("In the hour of")
        sentence = _("Skaters is “%(value)s”; allowed is a whole number from 0 to %(most)s.") % {
            "value": self.data.get("skaters", ""),
            "most": MOST_SKATERS,
        }
        errors = dict.fromkeys(("invalid", "min_value", "max_value", "required"), sentence)
        self.fields["skaters"].error_messages.update(errors)
        for validator in self.fields["skaters"].validators:
            validator.message = sentence  # type: ignore[attr-defined]


@on_rink(Right.SEE)
def headcounts(request: HttpRequest, at: At) -> HttpResponse:
    """Today's counts by the hour, and the buttons that add to them."""
    return show(request, at, HeadcountForm.of(request, at))


@on_rink(Right.LOG)
@require_POST
def add(request: HttpRequest, at: At) -> HttpResponse:
    """Count some more skaters, or all of an hour."""
    form = HeadcountForm.of(request, at)

    def save() -> Saved:
        data = form.cleaned_data
        return count_skaters(writing=form.writing(), skaters=data["skaters"], whole=data["whole"])

    def done(saved: Saved) -> HttpResponse:
        if getattr(request, "htmx", False):
            return show(request, at, form)
        return redirect("headcounts", slug=at.rink.slug)

    def again(status: int, existing: Any = None) -> HttpResponse:
        return show(request, at, form, status=status, existing=existing)

    return take(request, form, save=save, show=again, done=done)


def show(
    request: HttpRequest, at: At, form: HeadcountForm, status: int = 200, existing: Any = None
) -> HttpResponse:
    """The day's hours with the form, or the hours alone for htmx."""
    day = day_asked(request, at)
    hours = queries.hours(at.rink, *clock.day_bounds(day, at.zone))
    this_hour = hour_of(at.now, at.zone)
    context = {
        "form": form,
        "existing": existing,
        "in_conflict": status == 409,
        "day": day,
        "hours": hours,
        "sum": sum(hour.skaters for hour in hours),
        "this_hour": this_hour,
        "now_skaters": next((hour.skaters for hour in hours if hour.at == this_hour), 0),
        "taps": [(1, uuid4()), (5, uuid4())],
    }
    return reply(request, "records/headcounts.html", "records/_hours.html", context, status=status)


def day_asked(request: HttpRequest, at: At) -> dt.date:
    """The day in the address, or today."""
    try:
        return dt.date.fromisoformat(request.GET.get("day", ""))
    except ValueError:
        return at.today
