"""How every record is taken: one form, one service call, one reply."""

from collections.abc import Callable
from typing import Any
from uuid import uuid4

from django import forms
from django.core.validators import MaxLengthValidator
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.facts import Conflict, Refused
from rinklog.records.models import Record
from rinklog.records.writing import Saved, Writing
from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField


class OneOf(forms.ChoiceField):
    """A choice whose refusal names the field, the value and what is allowed."""

    def validate(self, value: Any) -> None:
        if value in self.empty_values and not self.required or self.valid_value(value):
            return
        allowed = ", ".join(str(title) for key, title in self.widget.choices if key)
        raise forms.ValidationError(
            _("%(field)s is “%(value)s”; allowed are %(allowed)s.")
            % {"field": self.label, "value": value, "allowed": allowed}
        )


class RecordForm(forms.Form):
    """What every record asks: its id, when, and a note."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    when = LocalTimeField(label=lazy("When"))
    note = forms.CharField(
        label=lazy("Note"), required=False, max_length=4000, widget=forms.Textarea(attrs={"rows": 2})
    )

    def __init__(self, *args: Any, at: At, replaces: Record | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.at, self.replaces = at, replaces
        for field in self.fields.values():
            word_refusals(field)
            if isinstance(field, LocalTimeField):
                field.set_zone(at.zone)

    @classmethod
    def start(cls, at: At, replaces: Record | None) -> dict[str, Any]:
        """What the empty form shows: now, or the record that is being corrected."""
        if replaces is None:
            return {"id": uuid4(), "when": at.now.replace(second=0, microsecond=0)}
        return {"id": uuid4(), "when": replaces.at, "note": replaces.note}

    @classmethod
    def of(cls, request: HttpRequest, at: At, replaces: Record | None = None, **more: Any) -> Any:
        """The form filled from the post, or from its start."""
        if request.method == "POST":
            return cls(request.POST, at=at, replaces=replaces, **more)
        return cls(initial=cls.start(at, replaces), at=at, replaces=replaces, **more)

    def writing(self) -> Writing:
        """Who writes about which moment. Call after is_valid()."""
        data = self.cleaned_data
        return Writing(
            id=data["id"],
            rink=self.at.rink,
            at=data["when"],
            by=self.at.person,
            now=self.at.now,
            note=data["note"],
            replaces=self.replaces,
        )

    def start_afresh(self) -> None:
        """Give what was typed an id of its own, so that it can be sent again beside the record in its way."""
        self.data = self.data.copy()  # type: ignore[attr-defined]
        self.data["id"] = str(uuid4())  # type: ignore[index]


def word_refusals(field: forms.Field) -> None:
    """Let a field that is empty or too long say so by its name."""
    if field.required and field.label:
        field.error_messages["required"] = _("%(field)s is empty; it is needed.") % {"field": field.label}
    for validator in field.validators:
        if isinstance(validator, MaxLengthValidator):
            name = str(field.label).replace("%", "%%")
            letters = _("has %(show_value)d letters; allowed are %(limit_value)d.")
            validator.message = f"{name} {letters}"


def take(
    request: HttpRequest,
    form: RecordForm,
    *,
    save: Callable[[], Saved],
    show: Callable[..., HttpResponse],
    done: Callable[[Saved], HttpResponse],
) -> HttpResponse:
    """Show the form, or take the post: saved, 422 with sentences, or 409 with both texts."""
    if request.method != "POST":
        return show(status=200)
    if form.is_valid():
        try:
            return done(save())
        except Conflict as conflict:
            form.start_afresh()
            return show(status=409, existing=conflict.existing)
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
    return show(status=422)
