"""Reading the money. Nothing here writes."""

import datetime as dt
from uuid import UUID

from django.db.models import QuerySet, Sum

from rinklog.money.models import Payment, Purse, WaterPrice
from rinklog.rink.models import Rink, Season


def purse(rink: Rink) -> Purse | None:
    """The currency this rink counts in, once chosen."""
    return Purse.objects.filter(rink=rink).first()


def payments(season: Season) -> QuerySet[Payment]:
    """Every payment of a season, those taken back too, the latest first."""
    return Payment.objects.filter(season=season).select_related("by")


def payment(rink: Rink, id: UUID) -> Payment | None:
    """One payment of a rink."""
    return Payment.objects.filter(rink=rink, id=id).first()


def sums(season: Season) -> dict[str, int]:
    """Sum of the payments that count [smallest coin], by kind."""
    rows = Payment.objects.filter(season=season, taken_back_at=None).order_by().values_list("kind")
    return dict(rows.annotate(cents=Sum("cents")))


def sums_by_season(rink: Rink) -> dict[UUID, dict[str, int]]:
    """The same for every season of a rink, in one query."""
    rows = Payment.objects.filter(rink=rink, taken_back_at=None).order_by().values_list("season_id", "kind")
    found: dict[UUID, dict[str, int]] = {}
    for season_id, kind, cents in rows.annotate(cents=Sum("cents")):
        found.setdefault(season_id, {})[kind] = cents
    return found


def water_prices(rink: Rink) -> list[WaterPrice]:
    """What water cost, from which day on, the earliest first."""
    return list(WaterPrice.objects.filter(rink=rink))


def price_on(prices: list[WaterPrice], day: dt.date) -> WaterPrice | None:
    """The price in force on a day, of prices in order of time."""
    return next((price for price in reversed(prices) if price.starts_on <= day), None)
