"""The book of the season: whole coins, currencies without cents, and what is refused in a sentence."""

import datetime as dt
from uuid import uuid4

import pytest
from django.test import Client

from rinklog.money import amounts
from rinklog.money.models import Payment
from rinklog.money.services import choose_currency, record_payment, set_water_price
from rinklog.reports.review.whole import season_review
from tests.support.cast import NOW, Cast

pytestmark = pytest.mark.django_db
DAY = NOW.date()


def purse(cast: Cast, code: str = "NOK") -> None:
    choose_currency(rink=cast.rink, code=code, by=cast.ada, now=NOW)


def pay(cast: Cast, kind: str, cents: int) -> Payment:
    said = {"on": DAY, "kind": kind, "cents": cents, "what": kind}
    return record_payment(id=uuid4(), rink=cast.rink, by=cast.ada, now=NOW, today=DAY, **said)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "digits", "cents"),
    [
        ("12.50", 2, 1250),
        ("12,5", 2, 1250),
        ("1 200", 2, 120000),
        ("0.01", 2, 1),
        ("1250", 0, 1250),
        ("1.005", 3, 1005),
    ],
)
def test_amounts_are_read_to_the_last_coin(text: str, digits: int, cents: int) -> None:
    assert amounts.read(text, digits) == cents


@pytest.mark.parametrize(
    ("text", "digits"),
    [("12.505", 2), ("12.5", 0), ("-3", 2), ("0", 2), ("1e3", 2), ("1,234.50", 2), ("", 2)],
)
def test_what_is_no_amount_is_refused_and_never_rounded(text: str, digits: int) -> None:
    with pytest.raises(amounts.AmountError):
        amounts.read(text, digits)


def test_water_is_charged_by_the_litre_and_half_a_coin_goes_up() -> None:
    # 1.5 m³ at 2.345 a m³ (234500 cents for 1000 m³) are 3.5175: 3.52.
    assert amounts.cost(1.5, 234_500) == 352
    assert amounts.cost(0.0, 234_500) == 0


def test_the_currency_decides_how_many_decimals_an_amount_has(cast: Cast, client: Client) -> None:
    client.force_login(cast.ada)
    path = f"/r/{cast.rink.slug}/money/"
    assert client.post(path + "currency/", {"code": "jpy"}).status_code == 302
    post = {"id": str(uuid4()), "kind": "fuel", "amount": "12.50", "what": "propane", "on": "2026-01-10"}
    answer = client.post(path + "add/", post)
    assert answer.status_code == 422
    assert (
        "Amount is “12.50”; allowed is an amount of JPY above 0, which has no decimals."
        in answer.content.decode()
    )
    assert client.post(path + "add/", post | {"amount": "1250"}).status_code == 302
    assert Payment.objects.get().cents == 1250
    page = client.get(path).content.decode()
    assert "−1250 JPY" in page
    answer = client.post(path + "currency/", {"code": "EUR"})
    assert answer.status_code == 422
    assert "Amounts are written down in JPY already" in answer.content.decode()


def test_the_review_adds_up_what_went_out_and_came_in(cast: Cast) -> None:
    purse(cast)
    set_water_price(
        rink=cast.rink, starts_on=dt.date(2025, 11, 1), cents_per_1000_m3=2_000_000, by=cast.ada, now=NOW
    )
    cast.flood(water_m3=1.5)  # 20.00 a m³: 30.00
    pay(cast, "fuel", 12050)
    pay(cast, "dues", 50000)
    table = season_review(cast.season, now=NOW).table("money")
    assert [row[3] for row in table.rows] == ["30.00", "120.50", "150.50", "500.00", "500.00", "349.50"]
    pay(cast, "water-bill", 4000)
    table = season_review(cast.season, now=NOW).table("money")
    assert [row[3] for row in table.rows] == ["40.00", "120.50", "160.50", "500.00", "500.00", "339.50"]
    assert "30.00 NOK; the bill counts instead" in table.notes[0]


def test_a_payment_taken_back_stays_in_the_book_and_counts_nowhere(cast: Cast, client: Client) -> None:
    purse(cast)
    wrong = pay(cast, "fuel", 99999)
    client.force_login(cast.ada)
    path = f"/r/{cast.rink.slug}/money/"
    client.post(f"{path}{wrong.id}/back/", {"reason": "typed twice"})
    page = client.get(path).content.decode()
    assert "typed twice (Ada)" in page
    assert "999.99" in page
    assert "0.00 NOK" in page


def test_water_of_days_without_a_price_is_said_and_not_counted(cast: Cast) -> None:
    purse(cast)
    cast.flood(water_m3=1.5)
    table = season_review(cast.season, now=NOW).table("money")
    assert "1.500 m³ were poured on days without a price" in table.notes[0]
