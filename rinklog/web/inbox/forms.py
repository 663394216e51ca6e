"""How somebody wants to be told."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.telling.models import Wishes
from rinklog.telling.services import Wanted


class ClockField(forms.TimeField):
    """A time of day."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"), **kwargs)

    def to_python(self, value: Any) -> Any:
        try:
            return super().to_python(value)
        except forms.ValidationError:
            said = {"field": self.label, "value": value}
            raise forms.ValidationError(
                _("%(field)s is “%(value)s”; allowed is a time such as 22:00.") % said
            ) from None


class WishesForm(forms.Form):
    """Mail or not, gathered or not, and the hours in which nothing should ring."""

    by_mail = forms.BooleanField(label=lazy("Send me mail"), required=False)
    mail_address = forms.EmailField(
        label=lazy("E-mail address"),
        required=False,
        widget=forms.EmailInput(attrs={"autocomplete": "email"}),
    )
    gather = forms.ChoiceField(label=lazy("What can wait"), choices=Wishes.Gather.choices)
    quiet_from = ClockField(label=lazy("Quiet from"), required=False)
    quiet_to = ClockField(label=lazy("Quiet until"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["mail_address"].error_messages["invalid"] = _(
            "E-mail address is “%(value)s”; allowed is one address such as odo@rink.example."
        ) % {"value": self.data.get("mail_address", "")}

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if data.get("by_mail") and not data.get("mail_address") and "mail_address" not in self.errors:
            self.add_error("mail_address", _("E-mail address is empty; mail needs one."))
        self.check_quiet(data.get("quiet_from"), data.get("quiet_to"))
        return data

    def check_quiet(self, start: Any, end: Any) -> None:
        """Both hours or neither, and not the same one twice."""
        if {"quiet_from", "quiet_to"} & set(self.errors):
            return
        if (start is None) != (end is None):
            empty = "quiet_from" if start is None else "quiet_to"
            self.add_error(empty, _("Quiet hours have a start and an end: give both or neither."))
        elif start is not None and start == end:
            self.add_error("quiet_to", _("Quiet until is the same as quiet from; give two different times."))

    def wanted(self, origin: str) -> Wanted:
        """What was chosen, for the service. Call after is_valid()."""
        return Wanted(**self.cleaned_data, origin=origin)
