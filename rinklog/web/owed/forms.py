"""Forms of what is owed to others."""

from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext_lazy as lazy

from rinklog.owed.models import Deadline, LoanEvent
from rinklog.owed.services import MOST


def day(label: Any, required: bool = True) -> forms.DateField:
    """A field for a day."""
    widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    return forms.DateField(label=label, required=required, widget=widget)


def number(label: Any) -> forms.IntegerField:
    """A field for how many."""
    widget = forms.NumberInput(attrs={"inputmode": "numeric"})
    return forms.IntegerField(label=label, initial=1, min_value=1, max_value=MOST, widget=widget)


class LoanForm(forms.Form):
    """Something lent to the rink."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    what = forms.CharField(label=lazy("What"), max_length=120)
    count = number(lazy("How many"))
    lender = forms.CharField(label=lazy("Lent by"), max_length=120)
    lent_on = day(lazy("Since"))
    back_on = day(lazy("Wanted back by"), required=False)
    note = forms.CharField(label=lazy("Note"), required=False, max_length=400)


class HappenedForm(forms.Form):
    """What happened to some of a loan."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    what = forms.ChoiceField(label=lazy("What happened"), choices=LoanEvent.What.choices)
    count = number(lazy("To how many"))
    on = day(lazy("Day"))
    note = forms.CharField(label=lazy("How"), required=False, max_length=400)


class DeadlineForm(forms.Form):
    """A day by which a paper must be in."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    kind = forms.ChoiceField(label=lazy("Kind"), choices=Deadline.Kind.choices)
    what = forms.CharField(label=lazy("What must be in"), max_length=160)
    due_on = day(lazy("Due on"))
    yearly = forms.BooleanField(label=lazy("Every year"), required=False)


class EndForm(forms.Form):
    """Done, or no longer wanted."""

    done = forms.ChoiceField(choices=[("yes", "yes"), ("no", "no")])
