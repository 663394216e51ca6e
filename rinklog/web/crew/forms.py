"""Forms for getting in, for the crew, and for oneself."""

import re
import unicodedata
from dataclasses import replace
from typing import Any
from uuid import uuid4

from django import forms
from django.conf import settings
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.password_validation import validate_password
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.models import Membership, Person
from rinklog.crew.rights import may_invite
from rinklog.crew.services import US_READING, Reading
from rinklog.crew.ways_in import NewPerson
from rinklog.web.fields import say_range

LOGIN = re.compile(r"[\w.@+-]{2,60}")


def password_field(label: Any, autocomplete: str) -> forms.CharField:
    """A password as it is typed: not stripped, and told to the phone's key store."""
    widget = forms.PasswordInput(attrs={"autocomplete": autocomplete})
    return forms.CharField(label=label, strip=False, max_length=200, widget=widget)


class SignInForm(AuthenticationForm):
    """Login and password, and whether this device stays signed in."""

    stay = forms.BooleanField(label=lazy("Stay signed in on this device"), initial=True, required=False)
    error_messages = {
        "invalid_login": lazy("Login and password do not belong together."),
        "inactive": lazy("Login and password do not belong together."),
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = _("Login")
        self.fields["username"].widget.attrs.update({"autocapitalize": "none", "autocomplete": "username"})


class NewPasswordForm(forms.Form):
    """A new password, twice."""

    password = password_field(lazy("New password (at least 8 characters)"), "new-password")
    again = password_field(lazy("The same again"), "new-password")

    def __init__(self, *args: Any, person: Person | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = person

    def whose(self) -> Person | None:
        """The person it is for, so that it is not their own name."""
        return self.person

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        password, again = data.get("password"), data.get("again")
        if password:
            try:
                validate_password(password, self.whose())
            except forms.ValidationError as error:
                self.add_error("password", error)
            if again and again != password:
                self.add_error("again", _("The two passwords differ; type the same twice."))
        return data


class NewPersonForm(NewPasswordForm):
    """What somebody says about themselves when they come in for the first time."""

    name = forms.CharField(label=lazy("Your name, as the crew knows you"), max_length=120)
    login = forms.CharField(
        label=lazy("Login: a short name to sign in with"),
        widget=forms.TextInput(attrs={"autocapitalize": "none", "autocomplete": "username", "maxlength": 60}),
    )
    units = forms.ChoiceField(
        label=lazy("Units"),
        choices=[
            ("metric", lazy("metres, litres, °C")),
            ("us", lazy("feet and inches, US gallons, °F")),
        ],
    )
    field_order = ["name", "login", "password", "again", "units"]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["password"].label = _("Password (at least 8 characters)")

    def clean_login(self) -> str:
        login = unicodedata.normalize("NFKC", self.cleaned_data["login"])
        if not LOGIN.fullmatch(login):
            raise forms.ValidationError(
                _("Login is “%(value)s”; allowed are 2 to 60 letters, digits and . @ + - _ without a space.")
                % {"value": login}
            )
        return login

    def whose(self) -> Person:
        return Person(login=self.cleaned_data.get("login", ""), name=self.cleaned_data.get("name", ""))

    def new_person(self) -> NewPerson:
        """What was typed, for the service. Call after is_valid()."""
        data = self.cleaned_data
        units = US_READING if data["units"] == "us" else Reading()
        reading = replace(units, language=get_language() or units.language)  # as they read the invitation
        return NewPerson(data["login"], data["name"], data["password"], reading)


class OwnPasswordForm(NewPasswordForm):
    """One's own password: the present one first."""

    present = password_field(lazy("Present password"), "current-password")
    field_order = ["present", "password", "again"]

    def clean_present(self) -> str:
        assert self.person is not None
        if not self.person.check_password(self.cleaned_data["present"]):
            raise forms.ValidationError(_("That is not your present password."))
        return self.cleaned_data["present"]


class CodeForm(forms.Form):
    """A code that was read out."""

    code = forms.CharField(
        label=lazy("Code: eight letters and digits"),
        max_length=40,
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "autocomplete": "off"}),
    )


class InviteForm(forms.Form):
    """As what, for how long, for how many."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    role = forms.ChoiceField(label=lazy("As"))
    uses = forms.IntegerField(label=lazy("For how many people"), min_value=1, max_value=50, initial=1)
    days = forms.IntegerField(label=lazy("Open for how many days"), min_value=1, max_value=60, initial=7)

    def __init__(self, *args: Any, role: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        roles = [pair for pair in Membership.Role.choices if may_invite(role, pair[0])]
        self.fields["role"].choices = roles  # type: ignore[attr-defined]
        self.fields["role"].initial = Membership.Role.VOLUNTEER
        for name in ("uses", "days"):
            say_range(self.fields[name])


class RoleForm(forms.Form):
    """What a member is."""

    role = forms.ChoiceField(label=lazy("Role"), choices=Membership.Role.choices)


class ReadingForm(forms.ModelForm):  # type: ignore[type-arg]  # no subscript at run time
    """Name, language and units of oneself."""

    language = forms.ChoiceField(label=lazy("Language"), choices=settings.LANGUAGES)

    class Meta:
        model = Person
        fields = ["name", "language", "depth_unit", "water_unit", "temperature_unit", "speed_unit"]
        labels = {
            "name": lazy("Name"),
            "depth_unit": lazy("Depths and lengths"),
            "water_unit": lazy("Water"),
            "temperature_unit": lazy("Temperature"),
            "speed_unit": lazy("Wind"),
        }

    def reading(self) -> Reading:
        """What was chosen, for the service. Call after is_valid()."""
        data = self.cleaned_data
        return Reading(**{name: data[name] for name in Reading.__dataclass_fields__})
