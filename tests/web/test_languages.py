"""Everybody reads and types in their own language: members by choice, strangers by their browser."""

import datetime as dt
import re

import pytest
from django.test import Client
from django.utils import translation

from rinklog.dates import written
from rinklog.telling.letters import mail, note
from rinklog.telling.models import Message, Wishes
from rinklog.units import UnitError
from rinklog.web import measures
from rinklog.web.languages import language_of, wishes_of
from rinklog.web.measures import METRIC, US
from tests.support.cast import NOW, Cast

CHOICES = {
    "name": "Ada",
    "depth_unit": "mm",
    "water_unit": "l",
    "temperature_unit": "C",
    "speed_unit": "km/h",
}


def lang(page: str) -> str:
    """The language a page says it is in."""
    return re.findall(r'<html lang="([^"]*)"', page)[0]


@pytest.mark.parametrize(
    ("header", "language"),
    [
        ("fr-CA,fr;q=0.9,en;q=0.8", "fr"),
        ("nb-NO,nb;q=0.9,no;q=0.8,nn;q=0.6,en-US;q=0.5", "nb"),  # what Chromium sends in Norway; from memory
        ("no", "nb"),
        ("nn-NO", "nb"),
        ("fi,fr;q=0.5,nb;q=0.7", "nb"),  # RFC 9110, 12.4.2: the weight decides, not the order
        ("fr;q=0,en", "en"),  # RFC 9110, 12.4.2: weight 0 means "not acceptable"
        ("fi", "en"),
        ("", "en"),
        (";;q=x,*", "en"),
    ],
)
def test_a_stranger_reads_in_the_first_language_of_the_browser_that_is_spoken_here(
    header: str, language: str
) -> None:
    assert language_of(wishes_of(header)) == language


@pytest.mark.django_db
def test_the_sign_in_page_follows_the_browser_and_caches_are_told(client: Client) -> None:
    answer = client.get("/sign-in/", headers={"accept-language": "fr"})
    assert lang(answer.content.decode()) == "fr"
    assert answer.headers["Content-Language"] == "fr"
    assert "Accept-Language" in answer.headers["Vary"]


def test_a_members_choice_comes_before_the_browser_and_holds_on_every_device_at_once(cast: Cast) -> None:
    phone, desk = Client(headers={"accept-language": "en"}), Client(headers={"accept-language": "en"})
    phone.force_login(cast.ada)
    desk.force_login(cast.ada)
    assert phone.post("/me/", CHOICES | {"language": "nb"}).status_code == 302
    for device in (phone, desk):
        assert lang(device.get(f"/r/{cast.rink.slug}/").content.decode()) == "nb"
    assert phone.post("/me/", CHOICES | {"language": "xx"}).status_code == 422


def test_a_language_that_is_spoken_here_no_more_gives_way_to_the_browsers(cast: Cast, client: Client) -> None:
    cast.ada.language = "xx"
    cast.ada.save()
    client.force_login(cast.ada)
    assert lang(client.get("/me/", headers={"accept-language": "fr"}).content.decode()) == "fr"


# Decimal comma, and a no-break space between thousands, from a million too: CLDR 48, fr and nb. From memory.
@pytest.mark.parametrize("language", ["fr", "nb"])
def test_numbers_are_shown_with_a_comma_and_read_with_a_comma_or_a_point(language: str) -> None:
    with translation.override(language):
        assert measures.show(0.0085, "coat", METRIC) == "8,5 mm"
        assert measures.show(12.345678, "water", METRIC) == "12\xa0346 l"
        for typed in ("8,5", "8.5", "8,5 mm"):
            assert measures.read(typed, "coat", METRIC) == pytest.approx(0.0085)
        assert measures.read("12\u202f346", "water", METRIC) == pytest.approx(12.346)
        assert measures.read("1 250", "area", METRIC) == 1250


@pytest.mark.parametrize(("typed", "quantity"), [("1,250", "area"), ("1,250", "water"), ("-1,250", "number")])
def test_a_number_that_two_peoples_read_differently_is_refused(typed: str, quantity: str) -> None:
    with pytest.raises(UnitError) as refused:
        measures.read(typed, quantity, METRIC)
    assert refused.value.code == "ambiguous"


@pytest.mark.parametrize("language", ["en", "fr", "nb"])
@pytest.mark.parametrize("units", [METRIC, US])
def test_what_a_form_shows_is_read_as_the_same_number_in_every_language(
    language: str, units: measures.Units
) -> None:
    with translation.override(language):
        for quantity in measures.QUANTITIES:
            shown = measures.plain(1234.5, quantity, units)
            assert measures.read(shown, quantity, units) == pytest.approx(1234.5, rel=1e-3)


@pytest.mark.parametrize("language", ["en", "fr", "nb"])
@pytest.mark.parametrize("units", [METRIC, US])
def test_a_number_copied_with_its_unit_is_read_as_it_is_or_refused(
    language: str, units: measures.Units
) -> None:
    with translation.override(language):
        for quantity, known in measures.QUANTITIES.items():
            if known.dimension:
                copied = read_or_refuse(measures.show(7.0, quantity, units), quantity, units)
                assert copied is None or copied == pytest.approx(7.0, rel=0.2), quantity


def read_or_refuse(typed: str, quantity: str, units: measures.Units) -> float | None:
    """What was typed as a number; None when it is refused with a sentence, such as "7,000.0 mm"."""
    try:
        return measures.read(typed, quantity, units)
    except UnitError:
        return None


def test_mail_and_push_speak_the_readers_language_whoever_caused_them(cast: Cast) -> None:
    cast.bo.language = "fr"
    told = [
        Message(rink=cast.rink, person=cast.bo, kind="news", text=text, url="/x/", key=text, made_at=NOW)
        for text in ("a", "b")
    ]
    wishes = Wishes(person=cast.bo, mail_address="bo@rimvinkel.example")
    with translation.override("en"):
        letter = mail(person=cast.bo, rink=cast.rink, messages=told, wishes=wishes, now=NOW)
        push = note(person=cast.bo, rink=cast.rink, messages=told)
        assert translation.get_language() == "en"
    # 15 January 2026 was a Thursday; 20:30 UTC is 21:30 in Oslo.
    assert "jeu 15 jan. 21:30" in str(letter.body)
    assert "2 messages" in push["title"]


@pytest.mark.parametrize(
    ("language", "expected"), [("en", "25 Nov 2026"), ("fr", "25 nov. 2026"), ("nb", "25. nov. 2026")]
)
def test_a_day_is_written_as_its_language_does(language: str, expected: str) -> None:
    # Norwegian: ordinal with a full stop, short months with one (Språkrådet, from memory); French: short month with one.
    with translation.override(language):
        assert written(dt.date(2026, 11, 25), "j M Y") == expected
