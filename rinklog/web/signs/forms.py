"""Which signs to make, and where phones reach the site."""

from typing import Any
from urllib.parse import urlsplit

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.rink.models import Sign
from rinklog.rink.sign_places import MOST_CONES
from rinklog.web.fields import say_range


class MakeForm(forms.Form):
    """A kind of sign; for cones, up to which number."""

    kind = forms.ChoiceField(label=lazy("Signs for"), choices=Sign.Kind.choices)
    cones = forms.IntegerField(
        label=lazy("How many cones"), min_value=1, max_value=MOST_CONES, initial=12, required=False
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        say_range(self.fields["cones"])

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if data.get("kind") == Sign.Kind.CONE and data.get("cones") is None and "cones" not in self.errors:
            self.add_error("cones", self.fields["cones"].error_messages["invalid"])
        return data


class SheetForm(forms.Form):
    """What to print and which address the codes hold."""

    kind = forms.ChoiceField(label=lazy("Signs for"), choices=Sign.Kind.choices)
    site = forms.CharField(label=lazy("Address of this site as phones reach it"), max_length=120)
    a_page = forms.TypedChoiceField(
        label=lazy("Size"),
        coerce=int,
        choices=[(4, lazy("four a page (A6)")), (1, lazy("one a page (A4)"))],
        required=False,
        empty_value="",
    )

    def clean_site(self) -> str:
        typed: str = self.cleaned_data["site"]
        site = typed.strip().rstrip("/")
        parts = urlsplit(site)
        if parts.scheme not in ("http", "https") or not parts.hostname or parts.path or parts.query:
            raise forms.ValidationError(
                _("%(field)s is “%(value)s”; allowed is https:// and a name, such as https://rink.example.")
                % {"field": self.fields["site"].label, "value": typed}
            )
        return site
