"""The book of the season: what it cost, what paid for it."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.money import amounts, queries, services
from rinklog.money.models import Payment, Purse
from rinklog.unit_words import with_comma
from rinklog.web.access import At, on_rink
from rinklog.web.money.forms import CurrencyForm, PaymentForm, TakeBackForm, WaterPriceForm
from rinklog.web.panels import posted


@on_rink(Right.SEE_MONEY)
def book(request: HttpRequest, at: At) -> HttpResponse:
    """Every payment of this season; a keeper writes one down."""
    return page(request, at)


def page(request: HttpRequest, at: At, status: int = 200, **forms: Any) -> HttpResponse:
    """The book with its forms: fresh ones, or those that were refused."""
    purse = queries.purse(at.rink)
    context: dict[str, Any] = {"purse": purse, "season": at.season, "currency_form": CurrencyForm()}
    if purse is not None:
        payments = list(queries.payments(at.season))
        context |= {
            "payments": [(one, with_comma(amounts.plain(one.cents, purse.digits))) for one in payments],
            "sums": totals(payments, purse),
            "prices": [
                (price, with_comma(amounts.plain(price.cents_per_1000_m3, purse.digits)))
                for price in reversed(queries.water_prices(at.rink))
            ],
            "payment_form": PaymentForm(purse=purse, initial={"on": at.today}),
            "price_form": WaterPriceForm(purse=purse, initial={"starts_on": at.season.starts_on}),
        }
    return render(request, "money/book.html", context | forms, status=status)


def totals(payments: list[Payment], purse: Purse) -> dict[str, str]:
    """What went out and came in, as amounts."""
    counting = [one for one in payments if one.taken_back_at is None]
    came_in = sum(one.cents for one in counting if one.is_income)
    out = sum(one.cents for one in counting) - came_in
    shown = {"out": out, "income": came_in, "left": came_in - out}
    return {key: with_comma(amounts.plain(cents, purse.digits)) for key, cents in shown.items()}


@on_rink(Right.KEEP)
@require_POST
def payment_add(request: HttpRequest, at: At) -> HttpResponse:
    """Write a payment down."""
    purse = queries.purse(at.rink)
    if purse is None:
        return page(request, at, 422)
    form = PaymentForm(posted(request), purse=purse)
    if form.is_valid():
        data = form.cleaned_data
        data["cents"] = data.pop("amount")
        try:
            services.record_payment(rink=at.rink, by=at.person, now=at.now, today=at.today, **data)
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("Another payment has this form's number already; open the page again."))
        else:
            return redirect("money", slug=at.rink.slug)
    return page(request, at, 422, payment_form=form)


@on_rink(Right.KEEP)
@require_POST
def payment_back(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take a payment back, with a reason."""
    form = TakeBackForm(posted(request))
    payment = at.payment(id)
    if form.is_valid():
        services.take_payment_back(payment=payment, by=at.person, now=at.now, **form.cleaned_data)
    else:
        messages.error(request, _("Say in a few words why it is taken back: the reason is empty."))
    return redirect("money", slug=at.rink.slug)


@on_rink(Right.KEEP)
@require_POST
def currency(request: HttpRequest, at: At) -> HttpResponse:
    """Choose the currency."""
    form = CurrencyForm(posted(request))
    if form.is_valid():
        try:
            services.choose_currency(rink=at.rink, by=at.person, now=at.now, **form.cleaned_data)
        except Refused as refused:
            form.add_error("code", str(refused.sentence))
        else:
            return redirect("money", slug=at.rink.slug)
    return page(request, at, 422, currency_form=form)


@on_rink(Right.KEEP)
@require_POST
def water_price(request: HttpRequest, at: At) -> HttpResponse:
    """Say what water costs from a day on."""
    purse = queries.purse(at.rink)
    if purse is None:
        return page(request, at, 422)
    form = WaterPriceForm(posted(request), purse=purse)
    if form.is_valid():
        data = form.cleaned_data
        services.set_water_price(
            rink=at.rink,
            starts_on=data["starts_on"],
            cents_per_1000_m3=data["price"],
            by=at.person,
            now=at.now,
        )
        return redirect("money", slug=at.rink.slug)
    return page(request, at, 422, price_form=form)
