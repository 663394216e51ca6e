"""The one form of the archive room."""

from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext_lazy as lazy


class ImportForm(forms.Form):
    """A file to import; its id is in the served form, so that sending it twice is one import."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    file = forms.FileField(
        label=lazy("Work log as CSV"),
        widget=forms.FileInput(attrs={"accept": ".csv,text/csv"}),
        error_messages={
            "required": lazy("No file is chosen; choose a CSV file."),
            "empty": lazy("The file is empty; choose a CSV file with a header."),
        },
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("initial", {"id": uuid4()})
        super().__init__(*args, **kwargs)
