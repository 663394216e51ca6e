"""The public page: for anybody, cacheable, in the reader's units, and silent about people."""

import datetime as dt
import gzip
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from django.utils.formats import date_format

from rinklog.crew.models import Person
from rinklog.plan.services.shifts import call_off
from rinklog.records.services import publish
from rinklog.web.public import kept
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.records import an_opening
from tests.support.shifts import SOON, a_shift

CACHED = {"ETag", "Cache-Control", "Vary", "Content-Language"}


@pytest.fixture(autouse=True)
def _always_fresh(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "KEEP_S", 0.0)


def show(cast: Cast, shown: str = "listed") -> str:
    """Let the keeper show the page; its address."""
    publish(rink=cast.rink, shown=shown, by=cast.ada, now=NOW)
    return f"/p/{cast.rink.slug}/"


def text(address: str, language: str = "en-GB,en;q=0.9") -> str:
    """The page as a stranger reads it."""
    answer = Client().get(address, headers={"accept-language": language})
    assert answer.status_code == 200
    return str(answer.content.decode())


def test_there_is_no_page_until_the_keeper_shows_it_and_none_after_it_is_taken_away(cast: Cast) -> None:
    address, statuses = f"/p/{cast.rink.slug}/", []
    statuses.append(Client().get(address).status_code)
    for shown in ("link", "listed", "off"):
        show(cast, shown)
        statuses.append(Client().get(address).status_code)
    assert statuses == [404, 200, 200, 404]
    assert Client().get("/p/no-such-rink/").status_code == 404
    assert Client().get(f"/p/{cast.other_rink.slug}/").status_code == 404


def test_search_engines_may_list_it_only_when_the_keeper_says_so(cast: Cast) -> None:
    for shown, robots, header in (("link", "noindex", "noindex"), ("listed", "index, follow", None)):
        answer = Client().get(show(cast, shown))
        assert f'<meta name="robots" content="{robots}">' in answer.content.decode()
        assert answer.headers.get("X-Robots-Tag") == header


def test_it_has_a_title_and_a_description_that_say_how_things_stand(cast: Cast) -> None:
    an_opening(cast, "closed")
    address = show(cast)
    page = text(address)
    assert "<title>Millpond Rink, Rimvinkel: closed</title>" in page
    assert 'name="description" content="Natural ice of Millpond Rink' in page
    link = Client().get(f"{address}?units=us").headers["Link"]
    assert (
        link == f'<http://testserver{address}>; rel="canonical"'
    )  # RFC 6596; search engines want it absolute


@pytest.mark.parametrize("person", [None, "ada"])
def test_a_cache_may_keep_it_whoever_reads(cast: Cast, person: str | None) -> None:
    client = Client()
    if person:
        client.force_login(getattr(cast, person))
    cookies = dict(client.cookies)
    answer = client.get(show(cast), headers={"accept-language": "en"})
    assert answer.headers["Cache-Control"] == "public, max-age=30"
    assert answer.headers["Vary"] == "Accept-Language, Accept-Encoding"
    assert "Set-Cookie" not in answer.headers
    assert dict(client.cookies) == cookies
    assert answer.content == Client().get(f"/p/{cast.rink.slug}/", headers={"accept-language": "en"}).content


def test_an_unchanged_page_is_not_sent_again_and_a_changed_one_is(cast: Cast) -> None:
    address = show(cast)
    tag = Client().get(address).headers["ETag"]
    again = Client().get(address, headers={"if-none-match": tag})
    assert (again.status_code, again.content) == (304, b"")
    assert set(again.headers) >= {"ETag", "Cache-Control", "Vary"}
    an_opening(cast, "open", reason="")
    changed = Client().get(address, headers={"if-none-match": tag})
    assert changed.status_code == 200
    assert changed.headers["ETag"] != tag


def test_packed_and_plain_are_one_page_under_two_tags(cast: Cast) -> None:
    address = show(cast)
    plain = Client().get(address)
    packed = Client().get(address, headers={"accept-encoding": "br, gzip;q=0.8"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.content) == plain.content
    assert packed.content == Client().get(address, headers={"accept-encoding": "gzip"}).content  # packed once
    assert packed.headers["ETag"] != plain.headers["ETag"]


@pytest.mark.parametrize(
    ("language", "query", "size", "coat"),
    [
        # 400 l over 46.57 m² (two zones of 25 m², one of them a corner) are 8.59 mm; 1 ft = 0.3048 m, 1 in = 25.4 mm.
        ("en-US,en;q=0.9", "", "131.2 ft × 65.6 ft", "0.34 in"),
        ("nb-NO", "", "40,00 m × 20,00 m", "8,6 mm"),
        ("en-GB,en-US;q=0.8", "", "40.00 m × 20.00 m", "8.6 mm"),
        ("en", "", "40.00 m × 20.00 m", "8.6 mm"),
        ("fr-FR", "?lang=en&units=us", "131.2 ft × 65.6 ft", "0.34 in"),
        ("en-US", "?units=metric", "40.00 m × 20.00 m", "8.6 mm"),
        ("*;q=x,,;;", "", "40.00 m × 20.00 m", "8.6 mm"),
    ],
)
def test_a_stranger_reads_their_own_units(
    cast: Cast, language: str, query: str, size: str, coat: str
) -> None:
    cast.flood()
    page = text(show(cast) + query, language)
    assert size in page
    assert coat in page


@pytest.mark.parametrize(
    ("query", "sentence"),
    [
        ("?units=furlongs", "Units is “furlongs”; allowed are metric, us."),
        ("?lang=xx", "Language is “xx”; allowed are en, fr, nb."),
        ("?units=" + "x" * 5000, "Units is “" + "x" * 40 + "”"),
    ],
)
def test_what_is_not_to_be_had_is_said_in_a_sentence(cast: Cast, query: str, sentence: str) -> None:
    answer = Client().get(show(cast) + query)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


def test_state_reason_until_grade_and_its_criterion_stand_on_it(cast: Cast) -> None:
    until = timezone.now() + dt.timedelta(days=1)
    an_opening(cast, "partly", reason="far end is wet", until=until, grade="good")
    page = text(show(cast))
    assert "Partly open</strong>: far end is wet" in page
    assert "Flaws on 10 to 50 % of the ice, no snow." in page
    assert "Until" in page
    assert "has passed" not in page


def test_a_time_that_has_passed_is_told_and_opens_nothing(cast: Cast) -> None:
    an_opening(cast, "closed", until=NOW + dt.timedelta(hours=2))
    page = text(show(cast))
    assert 'class="state state-closed"' in page
    assert "Nothing opens or closes by itself." in page


def test_cones_are_on_the_map_and_in_words_and_flaws_without_one_are_counted(cast: Cast) -> None:
    put_up(cast, kind="bump", cone_out=True)
    put_up(cast, kind="crack", cone_out=False)
    page = text(show(cast))
    assert page.count('class="mark-cone"') == 2  # once on the map, once in the list
    assert "<strong>C2: Bump</strong>" in page
    assert "1 more flaw in the ice is written down without a cone" in page


def test_nobody_is_named_and_no_note_is_shown(cast: Cast) -> None:
    names = ["Quibblewick", "Snorrebund", "Tjottenfjell", "Uxley", "Vrang", "Wisp"]
    for person, name in zip(Person.objects.order_by("login"), names, strict=True):
        Person.objects.filter(id=person.id).update(name=name, login=name.lower())
    cast.flood(note="Zebediah held the hose")
    an_opening(cast, "open", reason="")
    put_up(cast, cone_out=True)
    page = text(show(cast)).lower()
    told = [
        *Person.objects.values_list("name", flat=True),
        *Person.objects.values_list("login", flat=True),
        "zebediah",
    ]
    assert [word for word in told if word.lower() in page] == []


def test_it_says_that_ice_changes_and_that_a_flood_is_not_announced(cast: Cast) -> None:
    page = text(show(cast))
    assert "Natural ice changes by the hour" in page
    assert "Nobody has said yet whether it is open" in page
    assert "Cookie" not in page


def test_the_next_flood_shift_is_announced_without_its_people_until_it_is_called_off(cast: Cast) -> None:
    shift = a_shift(cast)
    a_shift(cast, starts_at=SOON + dt.timedelta(days=1))
    a_shift(cast, work="snow", starts_at=SOON - dt.timedelta(days=1))
    address = show(cast)
    when = date_format(shift.starts_at.astimezone(ZoneInfo("Europe/Oslo")), "D j M H:i")
    assert when in text(address)
    call_off(shift=shift, by=cast.bo, now=timezone.now(), reason="too warm")
    assert when not in text(address)


def test_a_crowd_costs_the_database_nothing_and_an_unshown_page_is_gone_with_the_next_rendering(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept, "KEEP_S", 60.0)
    address = show(cast)
    Client().get(address)
    with CaptureQueriesContext(connection) as asked:
        Client().get(address)
    assert len(asked) == 0
    show(cast, "off")
    monkeypatch.setattr(kept, "KEEP_S", 0.0)
    assert Client().get(address).status_code == 404


def test_nothing_can_be_posted_to_it(cast: Cast) -> None:
    assert Client().post(show(cast)).status_code == 405


def test_only_one_of_three_ways_is_taken_and_nothing_else(cast: Cast, client: Client) -> None:
    client.force_login(cast.ada)
    answer = client.post(f"/r/{cast.rink.slug}/setup/public/", {"shown": "sometimes"})
    assert answer.status_code == 422
    assert "The public page is shown is “sometimes”; allowed are" in answer.content.decode()
    assert client.post(f"/r/{cast.rink.slug}/setup/public/", {"shown": "link"}).status_code == 302
    assert Client().get(f"/p/{cast.rink.slug}/").status_code == 200
