"""Money: what went out, what came in, and what the water cost by its price."""

from collections.abc import Iterator

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import pgettext

from rinklog.money import amounts, queries
from rinklog.money.models import Payment
from rinklog.reports.review.facts import Facts
from rinklog.reports.review.tables import TREASURER, Column, Shape, Table
from rinklog.reports.review.told import told

MONEY_SHAPE = Shape(
    "money",
    lazy("Money"),
    (
        Column("side", lazy("Side"), said=True),
        Column("what", lazy("What"), said=True),
        Column("cents", lazy("Smallest coins"), digits=0),
        Column("amount", lazy("Amount")),
        Column("currency", lazy("Currency")),
    ),
    readers=TREASURER,
)


def water_cents(facts: Facts) -> tuple[int, float]:
    """What the season's water cost by the price of its day, and the water [m³] of days without a price."""
    prices = queries.water_prices(facts.span.season.rink)
    by_price: dict[int, float] = {}
    unpriced = 0.0
    for day in facts.days:
        price = queries.price_on(prices, day.day)
        if price is None:
            unpriced += day.water_m3
        else:
            by_price[price.cents_per_1000_m3] = by_price.get(price.cents_per_1000_m3, 0.0) + day.water_m3
    return sum(amounts.cost(water, price) for price, water in by_price.items()), unpriced


def money(facts: Facts) -> Table:
    """Out, in, and what is left. A water bill stands in place of what the entries come to by the price."""
    season = facts.span.season
    purse = queries.purse(season.rink)
    if purse is None:
        return Table.of(MONEY_SHAPE, [], [_("No currency is chosen yet: no money is counted.")])
    sums = queries.sums(season)
    computed, unpriced = water_cents(facts)
    billed = Payment.Kind.WATER in sums
    rows: list[tuple[str, str, int]] = []
    if not billed and computed:
        rows.append((_("out"), _("water, by its price"), computed))
    for kind in Payment.Kind:
        if kind in sums and kind not in Payment.INCOME:
            rows.append((_("out"), str(kind.label), sums[kind]))
    out = sum(cents for _side, _what, cents in rows)
    rows.append((_("out"), _("all of it"), out))
    income = [(_("in"), str(kind.label), sums[kind]) for kind in Payment.INCOME if kind in sums]
    came_in = sum(cents for _side, _what, cents in income)
    rows += [
        *income,
        (_("in"), _("all of it"), came_in),
        (_("balance"), pgettext("money", "left"), came_in - out),
    ]
    shown = [
        (side, what, cents, amounts.plain(cents, purse.digits), purse.code) for side, what, cents in rows
    ]
    by_price = f"{amounts.plain(computed, purse.digits)} {purse.code}"
    return Table.of(MONEY_SHAPE, shown, _notes(billed, by_price, unpriced))


def _notes(billed: bool, by_price: str, unpriced: float) -> Iterator[str]:
    if billed:
        yield told(
            lambda: (
                _("By the price of its day the logged water comes to %(amount)s; the bill counts instead.")
                % {"amount": by_price}
            )
        )
    if unpriced > 0:
        yield told(
            lambda: (
                _("%(water).3f m³ were poured on days without a price of water: their cost is not counted.")
                % {"water": unpriced}
            )
        )
