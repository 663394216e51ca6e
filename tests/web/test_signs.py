"""Signs on the spot: their codes read by another library (ZXing's C++ port), and what scanning each opens."""

import datetime as dt
import io
from typing import Any
from uuid import uuid4

import numpy as np
import pypdf
import pytest
import zxingcpp
from django.test import Client
from PIL import Image, ImageDraw

from rinklog.crew.models import Person
from rinklog.reports.printed.codes import code_of
from rinklog.reports.printed.sign_sheets import Label, sheets
from rinklog.rink.models import Sign
from rinklog.rink.services import add_bucket_test
from rinklog.rink.signs import make_signs, retire_sign
from rinklog.work.cones import put_cone
from rinklog.work.models import ConeStand, Hazard
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.signs import a_sign

ADDRESS = "https://rink.example/s/K7Q2MX/"


def signed_in(person: Person) -> Client:
    """A client of somebody's own."""
    client = Client()
    client.force_login(person)
    return client


@pytest.fixture
def ada(cast: Cast) -> Client:
    """The keeper."""
    return signed_in(cast.ada)


@pytest.fixture
def cleo(cast: Cast) -> Client:
    """A volunteer."""
    return signed_in(cast.cleo)


@pytest.fixture
def rut(cast: Cast) -> Client:
    """The keeper of another rink."""
    return signed_in(cast.rut)


def picture(text: str, scale: int = 8) -> Image.Image:
    """The code as a camera might see it: black squares on white."""
    code = code_of(text)
    drawn = Image.new("L", (code.size * scale, code.size * scale), 255)
    pen = ImageDraw.Draw(drawn)
    for x, y, length in code.runs():
        pen.rectangle((x * scale, y * scale, (x + length) * scale - 1, (y + 1) * scale - 1), fill=0)
    return drawn


def test_another_library_reads_the_address_and_the_error_correction() -> None:
    [read] = zxingcpp.read_barcodes(np.asarray(picture(ADDRESS)))
    assert read.text == ADDRESS
    assert read.format == zxingcpp.BarcodeFormat.QRCode
    assert read.ec_level == "H"


def test_a_code_with_a_tenth_of_it_hidden_by_snow_still_reads() -> None:
    dirty = picture(ADDRESS)
    side = int(dirty.width * 0.316)  # a tenth of the area, in the middle, where it is data
    at = (dirty.width - side) // 2
    ImageDraw.Draw(dirty).rectangle((at, at, at + side, at + side), fill=255)
    assert [one.text for one in zxingcpp.read_barcodes(np.asarray(dirty))] == [ADDRESS]


def test_the_svg_of_a_sign_draws_the_very_modules(cast: Cast, ada: Client) -> None:
    sign = a_sign(cast)
    answer = ada.get(f"/r/{cast.rink.slug}/signs/{sign.id}/sign.svg")
    assert answer["Content-Type"] == "image/svg+xml"
    assert code_of(f"http://testserver/s/{sign.code}/").path in answer.content.decode()


@pytest.mark.parametrize(("a_page", "count", "pages"), [(4, 4, 1), (4, 5, 2), (1, 3, 3)])
def test_sheets_hold_every_sign_with_its_address_in_letters(a_page: int, count: int, pages: int) -> None:
    labels = [Label(f"B{n}", "Zone", "Scan", f"{ADDRESS}{n}", "Millpond Rink") for n in range(count)]
    made = pypdf.PdfReader(io.BytesIO(sheets(labels, a_page=a_page)))
    assert len(made.pages) == pages
    text = " ".join(page.extract_text() for page in made.pages)
    assert [label.address in text for label in labels] == [True] * count


def test_making_signs_twice_makes_no_second_one(cast: Cast, ada: Client) -> None:
    for _again in range(2):
        ada.post(f"/r/{cast.rink.slug}/signs/", {"kind": "zone"})
    assert Sign.objects.filter(rink=cast.rink, kind="zone").count() == 32  # 8 x 4 zones
    ada.post(f"/r/{cast.rink.slug}/signs/", {"kind": "post"})
    assert Sign.objects.filter(kind="post").count() == 24  # both ends of 8 rows and of 4 columns
    assert len(set(Sign.objects.values_list("code", flat=True))) == 56


def test_a_zone_sign_opens_the_forms_with_its_zone_picked(cast: Cast, cleo: Client) -> None:
    sign = a_sign(cast, "zone", "B3")
    page = cleo.get(f"/s/{sign.code.lower()}/", follow=True)
    zone = next(zone for zone in cast.zones if zone.label == "B3")
    way = f"/r/{cast.rink.slug}/log/flood/?zones={zone.id}"
    assert way in page.content.decode()
    assert f'value="{zone.id}" checked' in cleo.get(way).content.decode()
    hazard = cleo.get(f"/r/{cast.rink.slug}/hazards/new/?zones={zone.id}").content.decode()
    assert f'value="{zone.id}" checked' in hazard


def test_a_board_post_opens_the_hazard_form_for_boards_beside_its_zone(cast: Cast, cleo: Client) -> None:
    sign = a_sign(cast, "post", "right C")
    page = cleo.get(f"/s/{sign.code}/", follow=True)
    zone = next(zone for zone in cast.zones if zone.label == "C4")
    form = page.context["form"]
    assert (form["kind"].value(), form.picked_zones()) == ("board", {zone.id})


def test_a_hose_opens_the_flood_form_with_its_own_flow(cast: Cast, cleo: Client) -> None:
    for hose, seconds in (("barn", 20.0), ("hydrant", 5.0)):  # 10 l in 20 s is 0.5 l/s
        add_bucket_test(
            id=uuid4(), rink=cast.rink, hose=hose, water_m3=0.010, seconds=seconds, by=cast.cleo, now=NOW
        )
    page = cleo.get(f"/s/{a_sign(cast, 'hose', 'barn').code}/", follow=True)
    form = page.context["form"]
    assert (form["by"].value(), form["hose_flow_ls"].value()) == ("minutes", "30")  # l/min


def test_a_cone_is_put_out_found_again_and_taken_in(cast: Cast, cleo: Client) -> None:
    address = f"/s/{a_sign(cast, 'cone', '7').code}/"
    form = cleo.get(address, follow=True).context["form"]
    assert (form["cone_number"].value(), form["cone_out"].value()) == (7, True)
    sent = {
        "id": uuid4(),
        "zones": [cast.zones[0].id],
        "kind": "bump",
        "severity": "trip",
        "found": "2026-01-15T21:30",
        "cone_number": "7",
    }
    for _again in range(2):  # a phone that sends twice
        cleo.post(f"/r/{cast.rink.slug}/hazards/new/", sent)
    hazard = Hazard.objects.get()
    assert (hazard.cone_out, ConeStand.objects.count()) == (True, 1)
    page = cleo.get(address, follow=True)
    assert page.request["PATH_INFO"] == f"/r/{cast.rink.slug}/hazard/{hazard.id}/"
    assert "cone 7 out" in page.content.decode()
    cleo.post(f"/r/{cast.rink.slug}/hazard/{hazard.id}/say/", {"id": uuid4(), "state": "closed"})
    assert cleo.get(address, follow=True).context["form"]["cone_number"].value() == 7  # free again


def test_a_free_cone_is_put_at_a_hazard_that_has_none(cast: Cast, cleo: Client) -> None:
    hazard = put_up(cast)
    address = f"/s/{a_sign(cast, 'cone', '7').code}/"
    page = cleo.get(address, follow=True).content.decode()
    assert f"/r/{cast.rink.slug}/hazard/{hazard.id}/?cone=7#say" in page
    said = {"id": uuid4(), "state": "marked", "cone_number": "7"}
    cleo.post(f"/r/{cast.rink.slug}/hazard/{hazard.id}/say/", said)
    assert cleo.get(address, follow=True).request["PATH_INFO"].endswith(f"/hazard/{hazard.id}/")


def test_a_cone_that_moved_on_is_found_where_it_stands_now(cast: Cast, cleo: Client) -> None:
    first, second = put_up(cast), put_up(cast)
    for hazard in (first, second):
        said = {"id": uuid4(), "state": "marked", "cone_number": "7"}
        cleo.post(f"/r/{cast.rink.slug}/hazard/{hazard.id}/say/", said)
    address = f"/s/{a_sign(cast, 'cone', '7').code}/"
    assert cleo.get(address, follow=True).request["PATH_INFO"].endswith(f"/hazard/{second.id}/")
    assert "cone 7" not in cleo.get(f"/r/{cast.rink.slug}/hazard/{first.id}/").content.decode()


@pytest.mark.parametrize("number", ["0", "100", "-3", "x"])
def test_a_cone_number_out_of_range_is_refused_in_one_sentence(number: str, cast: Cast, cleo: Client) -> None:
    said = {"id": uuid4(), "state": "marked", "cone_number": number}
    answer = cleo.post(f"/r/{cast.rink.slug}/hazard/{put_up(cast).id}/say/", said)
    assert answer.status_code == 422
    assert "Number on the cone: allowed is a whole number from 1 to 99." in answer.content.decode()


def test_an_unknown_code_and_one_of_another_crew_get_the_same_sentence(
    cast: Cast, cleo: Client, rut: Client
) -> None:
    theirs = a_sign(cast)
    for client, code in ((cleo, "QQQQQQ"), (rut, theirs.code)):
        answer = client.get(f"/s/{code}/")
        assert answer.status_code == 404
        assert f"No sign of your rinks has the code “{code}”" in answer.content.decode()


def test_a_retired_code_says_so_and_can_be_hung_again(cast: Cast, ada: Client, cleo: Client) -> None:
    sign = a_sign(cast)
    retire = f"/r/{cast.rink.slug}/signs/{sign.id}/retire/"
    assert "retired" in ada.post(retire).content.decode()
    answer = cleo.get(f"/s/{sign.code}/")
    assert answer.status_code == 410
    assert "The sign Zone B3 was retired by the keeper" in answer.content.decode()
    ada.post(retire, {"again": "1"})
    assert cleo.get(f"/s/{sign.code}/").status_code == 302


def test_a_sign_of_another_division_of_the_rink_is_not_taken_for_a_place_of_this_one(
    cast: Cast, cleo: Client
) -> None:
    sign = a_sign(cast)
    Sign.objects.filter(id=sign.id).update(rows=5)
    answer = cleo.get(f"/s/{sign.code}/", follow=True)
    assert answer.status_code == 410
    assert "made for another division of the rink" in answer.content.decode()
    a_sign(cast)  # made anew: the old one is retired with it
    assert Sign.objects.get(id=sign.id).retired_at is not None


def test_phones_are_told_where_each_standing_sign_leads_in_a_few_queries(
    cast: Cast, cleo: Client, django_assert_max_num_queries: Any
) -> None:
    put_cone(id=uuid4(), hazard=put_up(cast, cone_out=True), number=3, at=NOW, by=cast.cleo, now=NOW)
    add_bucket_test(
        id=uuid4(), rink=cast.rink, hose="barn", water_m3=0.010, seconds=20.0, by=cast.cleo, now=NOW
    )
    zone, barn, free, out = (
        a_sign(cast, kind, place).code
        for kind, place in (("zone", "B3"), ("hose", "barn"), ("cone", "7"), ("cone", "3"))
    )
    post = a_sign(cast, "post", "right C").code
    retire_sign(sign=a_sign(cast, "zone", "A1"), now=NOW)
    Sign.objects.filter(id=a_sign(cast, "zone", "A2").id).update(rows=5)
    for number in range(30, 60):
        a_sign(cast, "cone", str(number))
    with django_assert_max_num_queries(15):
        told = cleo.get(f"/r/{cast.rink.slug}/signs.json").json()
    b3, c4 = (next(one.id for one in cast.zones if one.label == label) for label in ("B3", "C4"))
    at, hazard = f"/r/{cast.rink.slug}", Hazard.objects.get()
    assert {code: told.pop(code) for code in (zone, barn, free, out, post)} == {
        zone: f"{at}/spot/?zones={b3}#zones={b3}&sign=Zone+B3",
        barn: f"{at}/log/flood/?hose=barn#by=minutes&hose_flow_ls=30",
        free: f"{at}/hazards/new/?cone=7#cone_out=on&cone_number=7",
        out: f"{at}/hazard/{hazard.id}/",
        post: f"{at}/hazards/new/?zones={c4}&kind=board#zones={c4}&kind=board",
    }
    assert len(told) == 30  # the cones: neither the retired sign nor the one of another division


def test_the_newest_place_of_a_cone_counts_for_phones_too(cast: Cast, cleo: Client) -> None:
    code, first, second = a_sign(cast, "cone", "3").code, *(put_up(cast, cone_out=True) for _two in range(2))
    for minutes, hazard in enumerate((first, second)):
        at = NOW + dt.timedelta(minutes=minutes)
        put_cone(id=uuid4(), hazard=hazard, number=3, at=at, by=cast.cleo, now=at)
    told = cleo.get(f"/r/{cast.rink.slug}/signs.json").json()
    assert told == {code: f"/r/{cast.rink.slug}/hazard/{second.id}/"}


def test_a_zone_opens_without_its_sign_too(cast: Cast, cleo: Client) -> None:
    zone = next(zone for zone in cast.zones if zone.label == "B3")
    page = cleo.get(f"/r/{cast.rink.slug}/spot/?zones={zone.id}").content.decode()
    assert ">Zone B3</h1>" in page
    assert f"/log/flood/?zones={zone.id}#zones={zone.id}" in page
    for nonsense in ("", "?zones=x", "?zones=999999"):
        page = cleo.get(f"/r/{cast.rink.slug}/spot/{nonsense}").content.decode()
        assert ">Write down work</h1>" in page
        assert 'log/flood/"' in page


def test_who_is_not_signed_in_comes_to_the_form_after_signing_in(cast: Cast, client: Client) -> None:
    code = a_sign(cast, "hose", "barn").code
    answer = client.get(f"/s/{code}/")
    assert answer["Location"] == f"/sign-in/?next=/s/{code}/"


@pytest.mark.parametrize("site", ["rink.example", "ftp://rink.example", "https://rink.example/x", "https://"])
def test_an_address_that_phones_cannot_reach_is_refused(site: str, cast: Cast, ada: Client) -> None:
    a_sign(cast)
    answer = ada.get(f"/r/{cast.rink.slug}/signs/sheets.pdf", {"kind": "zone", "site": site})
    assert answer.status_code == 422
    assert f"is “{site}”; allowed is https://" in answer.content.decode()


def test_codes_never_hold_letters_that_frost_confuses(cast: Cast) -> None:
    made = make_signs(
        rink=cast.rink,
        grid=cast.season.grid,
        kind="cone",
        places=[str(number) for number in range(1, 61)],
        by=cast.ada,
        now=NOW,
    )
    letters = set("".join(Sign.objects.values_list("code", flat=True)))
    assert made == 60
    assert letters.isdisjoint("01ILOUV")


def test_a_retired_sign_never_gives_its_code_away(cast: Cast) -> None:
    sign = a_sign(cast)
    retire_sign(sign=sign, now=NOW)
    assert a_sign(cast).code != sign.code
