"""Writing the money. The same id with the same content again is the same payment."""

import datetime as dt
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from rinklog.crew.closed import refuse_when_closed
from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused, fingerprint_of
from rinklog.money.amounts import MOST, digits_of
from rinklog.money.models import Payment, Purse, WaterPrice
from rinklog.rink.models import Rink
from rinklog.rink.queries import season_on


def choose_currency(*, rink: Rink, code: str, by: Person, now: dt.datetime) -> Purse:
    """Choose the currency a rink counts in. Refused for what is no code, and once amounts are written down."""
    code = code.strip().upper()
    if not (len(code) == 3 and code.isascii() and code.isalpha()):
        raise Refused(
            "code",
            _("Currency is “%(value)s”; allowed are the three letters of its code, such as NOK.")
            % {"value": code},
        )
    with transaction.atomic():
        there = Purse.objects.select_for_update().filter(rink=rink).first()
        if there is not None and there.code == code:
            return there
        counted = Payment.objects.filter(rink=rink).exists() or WaterPrice.objects.filter(rink=rink).exists()
        if there is not None and counted:
            raise Refused(
                "code",
                _("Amounts are written down in %(code)s already; they cannot become %(new)s.")
                % {"code": there.code, "new": code},
            )
        return Purse.objects.update_or_create(
            rink=rink, defaults={"code": code, "digits": digits_of(code), "by": by, "chosen_at": now}
        )[0]


def set_water_price(
    *, rink: Rink, starts_on: dt.date, cents_per_1000_m3: int, by: Person, now: dt.datetime
) -> WaterPrice:
    """Say what water costs from a day on; a second price for one day replaces the first."""
    _purse_of(rink)
    if not 0 <= cents_per_1000_m3 <= MOST:
        raise Refused("price", _("The price of water is out of range."))
    return WaterPrice.objects.update_or_create(
        rink=rink,
        starts_on=starts_on,
        defaults={"cents_per_1000_m3": cents_per_1000_m3, "by": by, "recorded_at": now},
    )[0]


def record_payment(
    *,
    id: UUID,
    rink: Rink,
    on: dt.date,
    kind: str,
    cents: int,
    what: str,
    by: Person,
    now: dt.datetime,
    today: dt.date,
) -> Payment:
    """Write down money that went out or came in. Errors: Refused; Conflict when the id holds another payment."""
    _purse_of(rink)
    what = what.strip()[:200]
    fingerprint = fingerprint_of({"on": on, "kind": kind, "cents": cents, "what": what})
    if found := _same_id(id, rink, fingerprint):
        return found
    _check(kind, cents, what, on, today)
    season = season_on(rink, on)
    if season is None:
        raise Refused("on", _("No season had begun on that date; the keeper sets seasons up."))
    refuse_when_closed(season, by, "on")
    values = {"season": season, "on": on, "kind": kind, "cents": cents, "what": what}
    try:
        with transaction.atomic():
            return Payment.objects.create(
                id=id, rink=rink, by=by, recorded_at=now, fingerprint=fingerprint, **values
            )
    except IntegrityError:
        if found := _same_id(id, rink, fingerprint):
            return found
        raise


def take_payment_back(*, payment: Payment, reason: str, by: Person, now: dt.datetime) -> Payment:
    """Take a payment back that was a mistake; it stays in the book and counts nowhere."""
    if not reason.strip():
        raise Refused("reason", _("Say in a few words why it is taken back: the reason is empty."))
    refuse_when_closed(payment.season, by, "reason")
    Payment.objects.filter(id=payment.id, taken_back_at=None).update(
        taken_back_at=now, reason=f"{reason.strip()} ({by.name})"[:400]
    )
    payment.refresh_from_db()
    return payment


def _check(kind: str, cents: int, what: str, on: dt.date, today: dt.date) -> None:
    if kind not in Payment.Kind.values:
        allowed = ", ".join(Payment.Kind.values)
        raise Refused(
            "kind", _("Kind is “%(value)s”; allowed are %(allowed)s.") % {"value": kind, "allowed": allowed}
        )
    if not 0 < cents <= MOST:
        raise Refused("amount", _("The amount is out of range; allowed is more than nothing."))
    if not what:
        raise Refused("what", _("Say what it was for: this is empty."))
    if on > today:
        raise Refused("on", _("The day is still to come; allowed is up to today."))


def _purse_of(rink: Rink) -> Purse:
    purse = Purse.objects.filter(rink=rink).first()
    if purse is None:
        raise Refused("code", _("Choose the currency first."))
    return purse


def _same_id(id: UUID, rink: Rink, fingerprint: str) -> Payment | None:
    there = Payment.objects.filter(id=id).first()
    if there is None:
        return None
    if (there.rink_id, there.fingerprint) != (rink.id, fingerprint):
        raise Conflict(there if there.rink_id == rink.id else None)
    return there
