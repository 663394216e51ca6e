"""Form fields that read what people type, in their units, into SI."""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.units import UnitError
from rinklog.web import measures
from rinklog.web.middleware import current_units
from rinklog.web.steps import step_of
from rinklog.work.cones import HIGHEST


class ZonesField(forms.TypedMultipleChoiceField):
    """Zones picked on the map, by their ids; the form sets the choices to those of its grid."""

    def __init__(self, **kwargs: Any) -> None:
        gone = lazy("Zone “%(value)s” is not on this season's grid; pick the zones again.")
        super().__init__(coerce=int, error_messages={"invalid_choice": gone}, **kwargs)


class QuantityField(forms.CharField):
    """A quantity: typed forms like `1/2 in` or `40 l` are understood, a bare number is in the person's unit.

    Cleans to SI (float) or None. Out of range or unreadable: one sentence with the field's name, the value and what
    is allowed, in the person's units.
    """

    def __init__(self, *, quantity: str, lowest: float, highest: float, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.quantity, self.lowest, self.highest = quantity, lowest, highest
        self.widget.attrs.update({"inputmode": "text", "autocomplete": "off", "data-quantity": quantity})

    def prepare_value(self, value: Any) -> Any:
        """Show SI in the person's unit, without the unit: it stands beside the field."""
        if isinstance(value, int | float):
            return measures.plain(value, self.quantity, self.units())
        return value

    def units(self) -> measures.Units:
        """The units a bare number is read in: the person's."""
        return current_units()

    def clean(self, value: Any) -> float | None:  # type: ignore[override]
        text = super().clean(value)
        if text in (None, ""):
            return None
        units = self.units()
        try:
            number = measures.read(text, self.quantity, units)
        except UnitError as error:
            raise forms.ValidationError(self._sentence(text)) from error
        if not self.lowest <= number <= self.highest:
            raise forms.ValidationError(self._sentence(text))
        return number

    @property
    def unit(self) -> str:
        """The person's unit, to stand beside the field."""
        return measures.unit_text(self.quantity, self.units())

    @property
    def step(self) -> str:
        """By how much minus and plus change it, in the person's unit; empty for no such buttons."""
        return step_of(self.quantity, self.units())

    @property
    def step_low(self) -> str:
        """Where minus stops, in the person's unit."""
        return measures.plain(self.lowest, self.quantity, self.units())

    def _sentence(self, text: str) -> str:
        units = self.units()
        return _("%(field)s is “%(value)s”; allowed is %(lowest)s to %(highest)s.") % {
            "field": self.label,
            "value": text,
            "lowest": measures.show(self.lowest, self.quantity, units),
            "highest": measures.show(self.highest, self.quantity, units),
        }


class LocalTimeField(forms.DateTimeField):
    """A moment typed in the rink's own time; cleans to aware UTC.

    A time that the clock change skips is refused; of a time that comes twice the first is taken.
    """

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault(
            "widget", forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M")
        )
        super().__init__(**kwargs)
        self.zone: dt.tzinfo = dt.UTC

    def set_zone(self, zone: ZoneInfo) -> None:
        """Say which rink's time this is."""
        self.zone = zone

    def prepare_value(self, value: Any) -> Any:
        if isinstance(value, dt.datetime) and value.tzinfo is not None:
            return value.astimezone(self.zone).replace(tzinfo=None)
        return value

    def to_python(self, value: Any) -> dt.datetime | None:
        if isinstance(value, dt.datetime) and value.tzinfo is not None:
            return value
        text = value if isinstance(value, str) else ""
        if not text.strip():
            return None
        try:
            local = dt.datetime.fromisoformat(text.strip())
        except ValueError:
            raise forms.ValidationError(
                _("%(field)s is “%(value)s”; allowed is a date and a time.")
                % {"field": self.label, "value": text}
            ) from None
        aware = local if local.tzinfo else local.replace(tzinfo=self.zone)
        utc = aware.astimezone(dt.UTC)
        if local.tzinfo is None and utc.astimezone(self.zone).replace(tzinfo=None, fold=0) != local:
            raise forms.ValidationError(
                _("%(field)s is “%(value)s”; the clock change skips that time at this rink.")
                % {"field": self.label, "value": text}
            )
        return utc


def sent_moment(text: str | None) -> dt.datetime | None:
    """The device's clock when it sent, if it said so in a readable way."""
    try:
        sent = dt.datetime.fromisoformat(text or "")
    except ValueError:
        return None
    return sent if sent.tzinfo else None


def say_range(field: forms.Field) -> None:
    """One sentence for whatever is wrong with a whole number."""
    sentence = _("%(field)s: allowed is a whole number from %(lowest)s to %(highest)s.") % {
        "field": field.label,
        "lowest": field.min_value,  # type: ignore[attr-defined]
        "highest": field.max_value,  # type: ignore[attr-defined]
    }
    field.error_messages |= dict.fromkeys(("invalid", "required", "min_value", "max_value"), sentence)
    for validator in field.validators:
        validator.message = sentence  # type: ignore[attr-defined]


class ConeField(forms.IntegerField):
    """The number painted on a cone."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(label=lazy("Number on the cone"), min_value=1, max_value=HIGHEST, **kwargs)

    def clean(self, value: Any) -> int | None:
        say_range(self)  # here, not when the form is defined: the sentence is in the reader's language
        return super().clean(value)
