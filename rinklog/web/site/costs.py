"""What the water of a plan costs, for those who may see money."""

from rinklog.crew.rights import Right
from rinklog.money import amounts
from rinklog.money import queries as money
from rinklog.web.access import At


def water_cost(at: At, water_m3: float) -> str:
    """The price of some water at today's price; empty without a price, or for who may not see it."""
    if not at.may(Right.SEE_MONEY):
        return ""
    purse, price = money.purse(at.rink), money.price_on(money.water_prices(at.rink), at.today)
    if purse is None or price is None:
        return ""
    return f"{amounts.plain(amounts.cost(water_m3, price.cents_per_1000_m3), purse.digits)} {purse.code}"
