"""Forms of shifts."""

import datetime as dt
from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext_lazy as lazy

from rinklog.advice.items import Window
from rinklog.plan.models import PermissionKind, Shift
from rinklog.plan.services.shifts import MINUTES, MOST_PEOPLE, ShiftContent
from rinklog.plan.services.windows import USUAL_MINUTES, USUAL_PEOPLE, snapshot
from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField, say_range
from rinklog.web.records.taking import OneOf, word_refusals

USUAL_HOUR = 20  # of "two a night from seven to ten": Konnerud, Norway 2014


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
    window = forms.CharField(widget=forms.HiddenInput, required=False, max_length=80)
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
    def start(
        cls, at: At, last: Shift | None, day: dt.date | None, window: Window | None = None
    ) -> dict[str, Any]:
        """What the empty form shows: a flood window or an evening, with what the last shift of the rink asked for."""
        wall = dt.datetime.combine(day or at.today, dt.time(USUAL_HOUR), tzinfo=at.zone)
        if wall <= at.now:
            wall += dt.timedelta(days=1)
        start: dict[str, Any] = {"id": uuid4(), "starts_at": wall}
        if window is not None:
            start |= {"starts_at": window.starts_at, "window": window.id}
        if last is not None:
            start |= {"people_needed": last.people_needed, "minutes": last.minutes}
            start |= {"skills": last.skills, "everybody": last.everybody}
        return start

    def content(self, window: Window | None = None) -> ShiftContent:
        """What was said, with the flood window behind it. Call after is_valid()."""
        data = dict(self.cleaned_data)
        del data["id"]
        kept = snapshot(window) if window and data["work"] == Shift.Work.FLOOD else None
        lists = {"skills": tuple(data["skills"]), "everybody": tuple(data["everybody"])}
        return ShiftContent(**data | lists | {"window": kept})


class ReasonForm(forms.Form):
    """Why a shift is called off, in a few words."""

    reason = forms.CharField(label=lazy("Why"), max_length=300, required=False)
