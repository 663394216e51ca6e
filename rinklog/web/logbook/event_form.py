"""The small forms of an entry's page: something happened, and a reason."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField
from rinklog.work.kinds import KINDS


class EventForm(forms.Form):
    """An event: its id made on the phone, when it happened if not now, and what came of it when that is asked."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    at = LocalTimeField(label=lazy("When"), required=False)
    result = forms.ChoiceField(label=lazy("Result"), required=False, widget=forms.RadioSelect)

    def __init__(self, *args: Any, at: At, kind: str, what: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["at"].set_zone(at.zone)  # type: ignore[attr-defined]
        closing = KINDS[kind].closing
        self.fields["result"].choices = list(closing.choices.items()) if closing else []  # type: ignore[attr-defined]

    @property
    def sentence(self) -> str:
        """What is wrong, in one line."""
        return " ".join(str(error) for errors in self.errors.values() for error in errors)


class ReasonForm(forms.Form):
    """A reason in a few words."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    reason = forms.CharField(label=lazy("Why it is withdrawn"), required=False, max_length=400)
