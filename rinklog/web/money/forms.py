"""Forms of the money: amounts are read in the rink's currency, never rounded."""

from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.money import amounts
from rinklog.money.models import Payment, Purse


class AmountField(forms.CharField):
    """An amount of one currency; cleans to whole numbers of its smallest coin."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.widget.attrs.update({"inputmode": "decimal", "autocomplete": "off"})
        self.digits, self.unit = 2, ""

    def set_purse(self, purse: Purse) -> None:
        """Say which currency this is."""
        self.digits, self.unit = purse.digits, purse.code

    def clean(self, value: Any) -> int | None:  # type: ignore[override]
        text = super().clean(value)
        if not text:
            return None
        try:
            return amounts.read(text, self.digits)
        except amounts.AmountError:
            said = {"field": self.label, "value": text, "code": self.unit, "digits": self.digits}
            if self.digits:
                sentence = _(
                    "%(field)s is “%(value)s”; allowed is an amount of %(code)s above 0 with at most %(digits)d decimals."
                )
            else:
                sentence = _(
                    "%(field)s is “%(value)s”; allowed is an amount of %(code)s above 0, which has no decimals."
                )
            raise forms.ValidationError(sentence % said) from None


class PaymentForm(forms.Form):
    """Money that went out or came in."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    kind = forms.ChoiceField(label=lazy("Kind"), choices=Payment.Kind.choices)
    amount = AmountField(label=lazy("Amount"), max_length=24)
    what = forms.CharField(label=lazy("What for"), max_length=200)
    on = forms.DateField(label=lazy("Day"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))

    def __init__(self, *args: Any, purse: Purse, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["amount"].set_purse(purse)  # type: ignore[attr-defined]


class CurrencyForm(forms.Form):
    """The currency the rink counts in."""

    code = forms.CharField(label=lazy("Currency, by its three letters"), max_length=10)


class WaterPriceForm(forms.Form):
    """What 1000 m³ of water cost from a day on."""

    price = AmountField(label=lazy("Price of 1000 m³ of water"), max_length=24)
    starts_on = forms.DateField(
        label=lazy("From"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )

    def __init__(self, *args: Any, purse: Purse, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["price"].set_purse(purse)  # type: ignore[attr-defined]


class TakeBackForm(forms.Form):
    """Why a payment is taken back."""

    reason = forms.CharField(label=lazy("Why"), max_length=300)
