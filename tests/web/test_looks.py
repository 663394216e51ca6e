"""The look of a device: chosen with one tap, kept by a cookie, never on the public page; and the steps of a number."""

import pytest
from django.test import Client

from rinklog.records.services import publish
from rinklog.web.fields import QuantityField
from rinklog.web.measures import METRIC, US
from rinklog.web.middleware import reading_in
from tests.support.cast import NOW, Cast

CHOSEN = " data-look="  # on the html element; the sheet itself names looks in brackets


@pytest.fixture
def cleo(cast: Cast) -> Client:
    """A volunteer."""
    client = Client()
    client.force_login(cast.cleo)
    return client


@pytest.mark.parametrize("look", ["light", "dark", "night", "sun"])
def test_a_look_that_was_chosen_is_on_every_page_of_the_device_until_it_is_taken_back(
    look: str, cast: Cast, cleo: Client
) -> None:
    home = f"/r/{cast.rink.slug}/"
    assert CHOSEN not in cleo.get(home).content.decode()
    cleo.post("/me/look/", {"look": look})
    assert f'<html lang="en" data-asleep data-look="{look}">' in cleo.get(home).content.decode()
    cleo.post("/me/look/", {"look": ""})
    assert CHOSEN not in cleo.get(home).content.decode()


def test_an_unknown_look_is_refused_and_a_forged_cookie_ignored(cast: Cast, cleo: Client) -> None:
    answer = cleo.post("/me/look/", {"look": "pink"})
    assert answer.status_code == 422
    assert "The look is “pink”; allowed is one of those below." in answer.content.decode()
    cleo.cookies["rinklog-look"] = '"><script>'
    assert CHOSEN not in cleo.get(f"/r/{cast.rink.slug}/").content.decode()


def test_the_public_page_is_the_same_for_everybody(cast: Cast, cleo: Client) -> None:
    publish(rink=cast.rink, shown="listed", by=cast.ada, now=NOW)
    cleo.cookies["rinklog-look"] = "night"
    assert CHOSEN not in cleo.get(f"/p/{cast.rink.slug}/").content.decode()


@pytest.mark.parametrize(
    ("quantity", "metric", "us"),
    [
        ("water", "50", "10"),
        ("minutes", "5", "5"),
        ("depth", "5", "0.25"),
        ("meter", "", ""),
        ("number", "", ""),
    ],
)
def test_plus_and_minus_step_by_typical_amounts_in_the_persons_own_unit(
    quantity: str, metric: str, us: str
) -> None:
    field = QuantityField(label="It", quantity=quantity, lowest=0, highest=10)
    for units, step in ((METRIC, metric), (US, us)):
        with reading_in(units):
            assert field.step == step
