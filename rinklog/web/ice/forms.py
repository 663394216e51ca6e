"""The answer to a drill hole that does not fit."""

from django import forms
from django.utils.translation import gettext_lazy as lazy

from rinklog.ice.models import HoleQuestion


class AnswerForm(forms.Form):
    """Measured right, or a mistake."""

    answer = forms.ChoiceField(
        label=lazy("Your answer"),
        choices=[
            (HoleQuestion.Answer.RIGHT, lazy("It was measured right: use it")),
            (HoleQuestion.Answer.MISTAKE, lazy("It is a mistake: leave it out")),
        ],
        widget=forms.RadioSelect,
        error_messages={
            "required": lazy(
                "Your answer is empty; say whether the hole was measured right or is a mistake."
            ),
            "invalid_choice": lazy(
                "Your answer is “%(value)s”; allowed are “measured right” and “a mistake”."
            ),
        },
    )
