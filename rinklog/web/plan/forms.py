"""Forms of shifts."""

import datetime as dt
from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext_lazy as lazy

from rinklog.plan.models import PermissionKind, Shift
from rinklog.plan.services.shifts import MINUTES, MOST_PEOPLE, ShiftContent
from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField, say_range
from rinklog.web.records.taking import OneOf, word_refusals

# Two a night from seven to ten: Konnerud, Norway 2014; the two hours are common practice, no source.
USUAL_PEOPLE, USUAL_MINUTES, USUAL_HOUR = 2, 120, 20


class TimeForm(forms.Form):
    """From when, and for how long."""

    starts_at = LocalTimeField(label=lazy("Starts"))
    minutes = forms.IntegerField(
        label=lazy("Expected minutes"), min_value=MINUTES[0], max_value=MINUTES[1], initial=USUAL_MINUTES
    )

    def __init__(self, *args: Any, at: At, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            word_refusals(field)
            if isinstance(field, LocalTimeField):
                field.set_zone(at.zone)
            if isinstance(field, forms.IntegerField):
                say_range(field)


class ShiftForm(TimeForm):
    """A shift made by hand."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    work = OneOf(label=lazy("Work"), choices=Shift.Work.choices, initial=Shift.Work.FLOOD)
    people_needed = forms.IntegerField(
        label=lazy("People needed"), min_value=1, max_value=MOST_PEOPLE, initial=USUAL_PEOPLE
    )
    skills = forms.MultipleChoiceField(
        label=lazy("One of them has"),
        choices=PermissionKind.choices,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    everybody = forms.MultipleChoiceField(
        label=lazy("Everybody has"),
        choices=PermissionKind.choices,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    note = forms.CharField(label=lazy("Note"), required=False, max_length=400)
    field_order = ["id", "work", "starts_at", "minutes", "people_needed", "skills", "everybody", "note"]

    @classmethod
    def start(cls, at: At, last: Shift | None, day: dt.date | None) -> dict[str, Any]:
        """What the empty form shows: an evening, with what the last shift of the rink asked for."""
        wall = dt.datetime.combine(day or at.today, dt.time(USUAL_HOUR), tzinfo=at.zone)
        if wall <= at.now:
            wall += dt.timedelta(days=1)
        start: dict[str, Any] = {"id": uuid4(), "starts_at": wall}
        if last is not None:
            start |= {"people_needed": last.people_needed, "minutes": last.minutes}
            start |= {"skills": last.skills, "everybody": last.everybody}
        return start

    def content(self) -> ShiftContent:
        """What was said. Call after is_valid()."""
        data = dict(self.cleaned_data)
        del data["id"]
        return ShiftContent(**data | {"skills": tuple(data["skills"]), "everybody": tuple(data["everybody"])})


class ReasonForm(forms.Form):
    """Why a shift is called off, in a few words."""

    reason = forms.CharField(label=lazy("Why"), max_length=300, required=False)
