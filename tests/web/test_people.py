"""Getting in and staying in: sign-in, tries, joining, one's own page, leaving."""

import datetime as dt
import re

import pytest
from django.test import Client
from django.utils import timezone

from rinklog.crew import queries
from rinklog.crew.models import Attempt, Person
from rinklog.rink.models import Rink
from rinklog.upkeep.services import make_claim_link
from tests.support.cast import PASSWORD, Cast

NEW = {
    "name": "Fia",
    "login": "fia",
    "password": "snow off boards",
    "again": "snow off boards",
    "units": "us",
}


def sign_in(client: Client, login: str, password: str = PASSWORD, **more: str):  # type: ignore[no-untyped-def]
    return client.post("/sign-in/", {"username": login, "password": password, "stay": "on"}, **more)


def test_guessing_is_slowed_down_and_lets_in_again_later(cast: Cast, client: Client) -> None:
    for _try in range(6):
        assert sign_in(client, "cleo", "wrong").status_code == 422
    assert sign_in(client, "CLEO").status_code == 429  # even the right one, in any case
    assert sign_in(client, "dag").status_code == 302  # another login from here
    assert sign_in(Client(), "cleo", REMOTE_ADDR="10.0.0.9").status_code == 302  # the same login elsewhere
    Attempt.objects.update(at=timezone.now() - dt.timedelta(minutes=16))
    assert sign_in(Client(), "cleo").status_code == 302


def test_the_answer_does_not_tell_whether_a_login_exists(cast: Cast, client: Client) -> None:
    def without_token(login: str) -> str:
        page = sign_in(client, login, "wrong").content.decode()
        return re.sub(r'(value|nonce)="[^"]*"', "", page)

    assert without_token("cleo") == without_token("nobody-here")


def test_a_good_sign_in_is_not_counted(cast: Cast) -> None:
    for _time in range(50):
        assert sign_in(Client(), "cleo").status_code == 302
    assert not Attempt.objects.exists()


def test_codes_are_slowed_down(cast: Cast, client: Client) -> None:
    answers = [client.post("/join/", {"code": f"AAAA-AA{n:02}"}).status_code for n in range(11)]
    assert answers == [422] * 10 + [429]


def test_links_are_slowed_down(db: None, client: Client) -> None:
    answers = [client.get(f"/reset/guess-{n}/").status_code for n in range(21)]
    assert answers == [404] * 20 + [429]


def test_signing_out_everywhere_ends_every_session(cast: Cast) -> None:
    phone, laptop = Client(), Client()
    for device in (phone, laptop):
        sign_in(device, "cleo")
        assert device.get("/me/").status_code == 200
    phone.post("/me/sign-out-everywhere/")
    assert phone.get("/me/").status_code == 302
    assert laptop.get("/me/").status_code == 302


def test_a_new_password_signs_out_the_other_devices_and_keeps_this_one(cast: Cast) -> None:
    phone, laptop = Client(), Client()
    for device in (phone, laptop):
        sign_in(device, "cleo")
    post = {"present": PASSWORD, "password": "one more thin coat", "again": "one more thin coat"}
    assert phone.post("/me/password/", post | {"present": "no"}).status_code == 422
    assert phone.post("/me/password/", post).status_code == 302
    assert phone.get("/me/").status_code == 200
    assert laptop.get("/me/").status_code == 302
    assert sign_in(Client(), "cleo", "one more thin coat").status_code == 302


def test_a_session_is_renewed_in_use_and_a_shared_device_forgets(cast: Cast) -> None:
    phone = Client()
    sign_in(phone, "cleo")
    phone.get("/me/")
    session = phone.session
    session["renewed"] = 1
    session.save()
    assert "rinklog_session" in phone.get("/me/").cookies
    assert "rinklog_session" not in phone.get("/me/").cookies
    shared = Client()
    shared.post("/sign-in/", {"username": "cleo", "password": PASSWORD})
    assert shared.session.get_expire_at_browser_close()


def test_a_next_address_on_another_site_is_not_followed(cast: Cast, client: Client) -> None:
    answer = client.post("/sign-in/?next=https://example.org/", {"username": "cleo", "password": PASSWORD})
    assert answer.headers["Location"] == "/"


def test_invite_join_and_leave_by_the_pages(cast: Cast) -> None:
    ada, fia = Client(), Client()
    ada.force_login(cast.ada)
    base = f"/r/{cast.rink.slug}/crew/"
    form = ada.get(f"{base}invite/").content.decode()
    id = re.search(r'name="id" value="([^"]+)"', form)
    assert id
    made = ada.post(f"{base}invite/", {"id": id[1], "role": "volunteer", "uses": "1", "days": "7"})
    page = ada.get(made.headers["Location"]).content.decode()
    link = re.search(r"/join/[\w=-]{20,}/", page)
    code = re.search(r"[2-9A-Z]{4}-[2-9A-Z]{4}", page)
    assert link
    assert code
    assert fia.post("/join/", {"code": code[0].lower()}).headers["Location"] == link[0]
    assert fia.post(link[0], NEW | {"again": "other"}).status_code == 422
    assert fia.post(link[0], NEW | {"login": "Cleo"}).status_code == 422  # taken, in any case
    assert fia.post(link[0], NEW).status_code == 302
    assert fia.get(f"/r/{cast.rink.slug}/").status_code == 200
    assert Person.objects.get(login="fia").depth_unit == "in"
    assert fia.get(link[0]).status_code == 404  # used up
    assert "Fia" in ada.get(base).content.decode()
    assert fia.post(f"{base}leave/").status_code == 302
    assert fia.get(f"/r/{cast.rink.slug}/").status_code == 404


def test_the_last_keeper_is_told_why_they_cannot_leave(cast: Cast, client: Client) -> None:
    client.force_login(cast.ada)
    answer = client.post(f"/r/{cast.rink.slug}/crew/leave/")
    assert answer.status_code == 409
    assert "Ada is the last keeper of Millpond Rink" in answer.content.decode()


def test_units_follow_the_person(cast: Cast, client: Client) -> None:
    cast.flood(by=cast.cleo, water_m3=3.785411784)
    client.force_login(cast.cleo)
    post = {"name": "Cleo", "language": "en", "depth_unit": "in", "water_unit": "gal"}
    assert client.post("/me/", post).status_code == 422
    post |= {"temperature_unit": "F", "speed_unit": "mph"}
    assert client.post("/me/", post).status_code == 302
    # NIST SP 811 app. B: 1 US gallon = 3.785 412 l, so 3 785.41 l are 1 000 gallons.
    assert "1,000 gal" in client.get(f"/r/{cast.rink.slug}/log/").content.decode()


def test_two_rinks_on_one_site_see_nothing_of_each_other(cast: Cast, client: Client) -> None:
    cast.flood(note="ours alone")
    client.force_login(cast.rut)
    for path in ("", "log/", "crew/", "setup/", "setup/rules/", "season/"):
        assert client.get(f"/r/{cast.rink.slug}/{path}").status_code == 404
        page = client.get(f"/r/{cast.other_rink.slug}/{path}").content.decode()
        assert "Millpond" not in page
        assert "Cleo" not in page


@pytest.mark.django_db
def test_claim_then_rink_then_home_without_javascript(client: Client) -> None:
    token = make_claim_link(now=timezone.now())
    assert client.get("/claim/guessed/").status_code == 404
    assert client.get(f"/claim/{token}/").status_code == 200
    assert client.post(f"/claim/{token}/", NEW).headers["Location"] == "/rinks/new/"
    form = client.get("/rinks/new/").content.decode()
    id = re.search(r'name="id" value="([^"]+)"', form)
    assert id
    # 85 ft × 40 ft, 8 ft corners, typed bare by somebody who reads feet.
    post = {
        "id": id[1],
        "name": "Pond",
        "time_zone": "america/toronto",
        "length": "85",
        "width": "40 ft",
        "corner": "8",
        "starts_on": "2026-11-01",
    }
    for _again in range(2):
        assert client.post("/rinks/new/", post).status_code == 302
    rink = Rink.objects.get()
    # NIST SP 811 app. B: 1 ft = 0.3048 m.
    assert (rink.length_m, rink.width_m) == pytest.approx((25.908, 12.192))
    assert rink.time_zone == "America/Toronto"
    assert client.get(f"/r/{rink.slug}/").status_code == 200
    person = Person.objects.get()
    assert queries.role_on(rink, person) == "keeper"
    assert Client().get(f"/claim/{token}/").status_code == 404
