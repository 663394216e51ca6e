"""The page on which people say how they want to be told."""

import datetime as dt

import pytest
from django.test import Client
from django.urls import reverse

from rinklog.telling.models import Device, Message, Wishes
from rinklog.telling.queries import wishes_of
from tests.support.cast import Cast
from tests.support.mail_sink import Sink
from tests.support.push_service import PushService

PAGE = "/me/telling/"
WANTED = {
    "by_mail": "on",
    "mail_address": "cleo@rimvinkel.example",
    "gather": "evening",
    "quiet_from": "22:00",
    "quiet_to": "06:30",
}


@pytest.fixture
def cleo(cast: Cast) -> Client:
    """Cleo's browser."""
    client = Client(headers={"host": "rink.rimvinkel.example"})
    client.force_login(cast.cleo)
    return client


def test_what_is_chosen_is_kept_with_the_address_by_which_the_site_is_reached(
    cast: Cast, cleo: Client
) -> None:
    assert cleo.post(PAGE, WANTED).status_code == 302
    wishes = wishes_of(cast.cleo)
    assert (wishes.by_mail, wishes.mail_address, wishes.gather) == (True, "cleo@rimvinkel.example", "evening")
    assert (wishes.quiet_from, wishes.quiet_to) == (dt.time(22), dt.time(6, 30))
    assert wishes.origin == "http://rink.rimvinkel.example"
    page = cleo.get(PAGE).content.decode()
    assert 'value="22:00"' in page
    assert 'value="06:30"' in page


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"mail_address": ""}, "E-mail address is empty; mail needs one."),
        ({"mail_address": "cleo at home"}, "E-mail address is “cleo at home”; allowed is one address"),
        ({"quiet_from": ""}, "Quiet hours have a start and an end: give both or neither."),
        ({"quiet_to": "late"}, "Quiet until is “late”; allowed is a time such as 22:00."),
        ({"quiet_to": "25:00"}, "Quiet until is “25:00”; allowed is a time such as 22:00."),
        ({"quiet_to": "22:00"}, "Quiet until is the same as quiet from; give two different times."),
        ({"gather": "never"}, "Select a valid choice"),
    ],
)
def test_a_wrong_wish_is_one_sentence_and_changes_nothing(
    cast: Cast, cleo: Client, wrong: dict[str, str], sentence: str
) -> None:
    answer = cleo.post(PAGE, WANTED | wrong)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert not Wishes.objects.exists()


def test_a_browser_can_be_added_and_removed_and_a_strange_one_is_told_why(
    cast: Cast, cleo: Client, push_service: PushService
) -> None:
    values = {"endpoint": push_service.endpoint, "name": "Chrome Android", **push_service.keys()}
    assert cleo.post(reverse("device-add"), values).status_code == 200
    device = Device.objects.get(person=cast.cleo)
    assert "Chrome Android" in cleo.get(PAGE).content.decode()
    answer = cleo.post(reverse("device-add"), values | {"endpoint": "https://elsewhere.example/"})
    assert answer.status_code == 422
    assert answer.json() == {"sentence": "This browser names a push service that this site does not know."}
    dag = Client()
    dag.force_login(cast.dag)
    assert dag.post(reverse("device-remove", args=[device.id])).status_code == 404
    assert cleo.post(reverse("device-remove", args=[device.id])).status_code == 302
    assert not Device.objects.exists()


def test_a_trial_message_takes_every_way_at_once(cast: Cast, cleo: Client, mail_sink: Sink) -> None:
    cleo.post(PAGE, WANTED)
    assert cleo.post(reverse("trial", args=[cast.rink.slug])).status_code == 302
    message = Message.objects.get(person=cast.cleo)
    assert message.text == "This is how a message from Millpond Rink reaches you."
    delivery = message.deliveries.get()
    assert (delivery.channel, delivery.due_at) == ("mail", message.made_at)
    page = cleo.get(reverse("inbox", args=[cast.rink.slug])).content.decode()
    assert "E-mail: waits" in page
