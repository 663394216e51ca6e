"""Photos through the door: posted with and without script, shown through the gate only."""

import datetime as dt
import io
import socket
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from rinklog.photos import tasks
from rinklog.photos.models import Photo
from rinklog.records.models import AccidentReport
from rinklog.work.models import Hazard
from tests.support.browser import session_cookie
from tests.support.cast import NOW, Cast, make_cast
from tests.support.hazards import put_up
from tests.support.photos import a_photo, a_picture, received

JSON = {"Accept": "application/json"}


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def upload(data: bytes, name: str = "IMG_0001.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, content_type="image/jpeg")


def by_script(cast: Cast, data: bytes, **changes: object) -> dict[str, object]:
    values: dict[str, object] = {
        "id": str(uuid4()),
        "subject": "hazard",
        "subject_id": str(uuid4()),
        "photo": upload(data),
    }
    return values | changes


def address(cast: Cast) -> str:
    return f"/r/{cast.rink.slug}/photos/"


def picture(photo: Photo, size: str = "small", rink: str = "") -> str:
    return f"/r/{rink or photo.rink.slug}/photo/{photo.id}/{size}.jpg"


def test_a_posted_photo_is_prepared_and_shown(
    cleo: Client, cast: Cast, django_capture_on_commit_callbacks
) -> None:
    hazard = put_up(cast)
    with django_capture_on_commit_callbacks(execute=True):
        answer = cleo.post(address(cast), by_script(cast, a_picture(2000, 1500), subject_id=str(hazard.id)))
    assert (answer.status_code, answer.json()) == (201, {"state": "waiting", "sentence": ""})
    photo = Photo.objects.get()
    assert photo.state == "ready"
    for size, px in (("large", (1600, 1200)), ("small", (400, 300))):
        shown = cleo.get(picture(photo, size))
        assert Image.open(io.BytesIO(shown.content)).size == px
        assert shown.headers["Content-Type"] == "image/jpeg"
        assert shown.headers["Content-Disposition"] == f'inline; filename="photo-{photo.id}-{size}.jpg"'
        assert shown.headers["X-Content-Type-Options"] == "nosniff"
        assert shown.headers["Cache-Control"] == "private, max-age=31536000, immutable"
    assert picture(photo) in cleo.get(f"/r/{cast.rink.slug}/hazard/{hazard.id}/").content.decode()


def test_a_replayed_post_is_one_photo_and_other_bytes_are_409(cleo: Client, cast: Cast) -> None:
    first = by_script(cast, a_picture())
    assert cleo.post(address(cast), first).status_code == 201
    assert cleo.post(address(cast), first | {"photo": upload(a_picture())}).status_code == 200
    answer = cleo.post(address(cast), first | {"photo": upload(a_picture(320, 240))})
    assert answer.status_code == 409
    assert "already has this id" in answer.json()["sentence"]
    assert Photo.objects.count() == 1


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"<html><script>alert(1)</script></html>", "IMG_0001.jpg: This file is not a picture"),
        (b'<svg xmlns="http://www.w3.org/2000/svg"/>', "This file is not a picture"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "HEIC"),
        (b"", "0 bytes arrived"),
    ],
)
def test_what_is_no_picture_gets_a_sentence(cleo: Client, cast: Cast, data: bytes, sentence: str) -> None:
    answer = cleo.post(address(cast), by_script(cast, data))
    assert answer.status_code == 422
    assert sentence in answer.json()["sentence"]
    assert not Photo.objects.exists()


def test_twenty_megabytes_are_taken_and_twenty_six_get_a_sentence(cleo: Client, cast: Cast) -> None:
    data = a_picture()
    assert cleo.post(address(cast), by_script(cast, data.ljust(20_000_000, b"\0"))).status_code == 201
    answer = cleo.post(address(cast), by_script(cast, data.ljust(26_000_000, b"\0")))
    assert answer.status_code == 422
    assert "larger than 25 MB" in answer.json()["sentence"]


def test_a_refused_photo_says_why_and_what_it_belongs_to_stays(
    cleo: Client, cast: Cast, django_capture_on_commit_callbacks
) -> None:
    hazard = put_up(cast)
    data = a_picture(1200, 900)
    with django_capture_on_commit_callbacks(execute=True):
        cleo.post(address(cast), by_script(cast, data[: len(data) // 2], subject_id=str(hazard.id)))
    page = cleo.get(f"/r/{cast.rink.slug}/hazard/{hazard.id}/").content.decode()
    assert "The photo is cut off" in page
    assert Hazard.objects.count() == 1


def test_without_script_a_forms_photos_come_along_and_twice_is_once(cleo: Client, cast: Cast) -> None:
    id = uuid4()
    pictures = [a_picture(), a_picture(320, 240)]

    def post() -> int:
        values = {
            "id": str(id),
            "x_m": "12",
            "y_m": "7",
            "kind": "bump",
            "severity": "trip",
            "found": "2026-01-15T21:00",
            "photos": [upload(data) for data in pictures],
        }
        return cleo.post(f"/r/{cast.rink.slug}/hazards/new/", values).status_code

    assert [post(), post()] == [302, 302]
    assert Photo.objects.filter(subject="hazard", subject_id=id).count() == 2


def test_a_bad_picture_in_the_form_does_not_cost_the_hazard(cleo: Client, cast: Cast) -> None:
    values = {
        "id": str(uuid4()),
        "x_m": "12",
        "y_m": "7",
        "kind": "bump",
        "severity": "trip",
        "found": "2026-01-15T21:00",
        "photos": [upload(b"no picture", name="notes.txt"), upload(a_picture())],
    }
    page = cleo.post(f"/r/{cast.rink.slug}/hazards/new/", values, follow=True).content.decode()
    assert "notes.txt: This file is not a picture" in page
    assert (Hazard.objects.count(), Photo.objects.count()) == (1, 1)


def test_a_work_form_takes_photos_of_the_entry_it_makes(cleo: Client, cast: Cast) -> None:
    form = f"/r/{cast.rink.slug}/log/flood/"
    assert "data-photo-inputs" in cleo.get(form).content.decode()
    values = {
        "id": str(uuid4()),
        "zones": [cast.zones[8].id],
        "by": "amount",
        "amount": "400",
        "water": "cold",
        "tool": "hose",
        "started": "2026-01-15T21:00",
        f"minutes-{cast.cleo.id}": "45",
        "photos": [upload(a_picture()), upload(b"no picture", name="notes.txt")],
    }
    page = cleo.post(form, values, follow=True).content.decode()
    assert "notes.txt: This file is not a picture" in page
    photo = Photo.objects.get()
    assert (photo.subject, str(photo.subject_id)) == ("entry", values["id"])


def test_the_strips_own_form_works_without_script_and_goes_back_to_its_page(cleo: Client, cast: Cast) -> None:
    hazard = put_up(cast)
    page = f"/r/{cast.rink.slug}/hazard/{hazard.id}/"
    values = {
        "subject": "hazard",
        "subject_id": str(hazard.id),
        "batch": str(uuid4()),
        "next": page,
        "photos": [upload(a_picture())],
    }
    answer = cleo.post(address(cast), values)
    assert (answer.status_code, answer["Location"]) == (302, page)
    assert Photo.objects.count() == 1
    elsewhere = cleo.post(address(cast), values | {"photos": [], "next": "https://example.org/"})
    assert elsewhere["Location"] == f"/r/{cast.rink.slug}/"


def test_a_photo_of_another_rink_is_not_there(cast: Cast, client: Client) -> None:
    photo = a_photo(cast)
    client.force_login(cast.rut)
    assert client.get(picture(photo)).status_code == 404
    assert client.get(picture(photo, rink=cast.other_rink.slug)).status_code == 404
    other = f"/r/{cast.other_rink.slug}/photo/{photo.id}/take-back/"
    assert client.post(other).status_code == 404
    # A photo posted to her own rink under our hazard's id stays at her rink.
    hazard = put_up(cast)
    theirs = by_script(cast, a_picture(), subject_id=str(hazard.id))
    assert client.post(f"/r/{cast.other_rink.slug}/photos/", theirs).status_code == 201
    client.force_login(cast.cleo)
    page = client.get(f"/r/{cast.rink.slug}/hazard/{hazard.id}/").content.decode()
    assert str(theirs["id"]) not in page


def test_there_is_no_other_way_to_the_files(cleo: Client, cast: Cast) -> None:
    photo = a_photo(cast)
    for path in (f"/media/{photo.large.name}", f"/{photo.large.name}", "/media/", "/photos/"):
        assert cleo.get(path).status_code == 404
    for size in ("arrived", "huge", ""):
        assert cleo.get(picture(photo, size)).status_code == 404
    waiting = received(cast, a_picture(99, 99))
    assert cleo.get(picture(waiting, "large")).status_code == 404
    assert cleo.get(picture(waiting, "arrived")).status_code == 404


def test_the_photos_of_an_accident_are_seen_by_who_reads_reports_and_who_took_them(
    cast: Cast, client: Client
) -> None:
    report = AccidentReport.objects.create(
        rink=cast.rink,
        season=cast.season,
        at=NOW,
        by=cast.dag,
        recorded_at=NOW,
        fingerprint="-",
        what_happened="a fall",
    )
    photo = a_photo(cast, subject="record", subject_id=report.id)  # taken by Cleo
    strip = f"/r/{cast.rink.slug}/photos/record/{report.id}/"
    for person, seen in ((cast.ada, 200), (cast.bo, 200), (cast.cleo, 200), (cast.dag, 404), (cast.eli, 404)):
        client.force_login(person)
        assert client.get(picture(photo)).status_code == seen
    client.force_login(cast.dag)
    assert client.get(strip).status_code == 404
    client.force_login(cast.bo)
    assert client.get(strip).status_code == 200


def test_a_photo_is_deleted_by_who_took_it_or_by_the_coordinator(cast: Cast, client: Client) -> None:
    mine, also_mine = a_photo(cast), a_photo(cast)
    for person, photo, status in (
        (cast.dag, mine, 404),
        (cast.cleo, mine, 302),
        (cast.bo, also_mine, 302),
    ):
        client.force_login(person)
        assert client.post(f"/r/{cast.rink.slug}/photo/{photo.id}/take-back/").status_code == status
    assert client.get(picture(mine)).status_code == 404
    assert Photo.objects.filter(taken_back_at=None).count() == 0


def test_the_post_succeeds_while_the_queue_is_down(
    cleo: Client, cast: Cast, monkeypatch: pytest.MonkeyPatch, django_capture_on_commit_callbacks
) -> None:
    def down(*_: object, **__: object) -> None:
        raise OSError("queue folder gone")

    monkeypatch.setattr(tasks.prepare_photo, "apply_async", down)
    with django_capture_on_commit_callbacks(execute=True):
        assert cleo.post(address(cast), by_script(cast, a_picture())).status_code == 201
    Photo.objects.update(recorded_at=NOW - dt.timedelta(days=1))
    monkeypatch.undo()
    with django_capture_on_commit_callbacks(execute=True):
        tasks.sweep_waiting()
    assert Photo.objects.get().state == "ready"


@pytest.mark.django_db(transaction=True)
def test_a_torn_upload_leaves_nothing_and_the_same_post_again_is_taken(live_server) -> None:
    cast = make_cast()
    data, id, subject = a_picture(1200, 900), uuid4(), uuid4()
    client = Client()
    client.force_login(cast.cleo)
    cookie = session_cookie(cast.cleo, live_server.url)
    token = "a" * 32
    fields = {"csrfmiddlewaretoken": token, "id": id, "subject": "hazard", "subject_id": subject}
    body = b"".join(
        f'--cut\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'.encode()
        for name, value in fields.items()
    )
    body += b'--cut\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n'
    body += b"Content-Type: image/jpeg\r\n\r\n" + data + b"\r\n--cut--\r\n"
    host, port = live_server.url.removeprefix("http://").split(":")
    head = (
        f"POST /r/{cast.rink.slug}/photos/ HTTP/1.1\r\nHost: {host}:{port}\r\nConnection: close\r\n"
        f"Cookie: {cookie['name']}={cookie['value']}; rinklog_csrf={token}\r\n"
        f"Content-Type: multipart/form-data; boundary=cut\r\nContent-Length: {len(body)}\r\n\r\n"
    ).encode()
    with socket.create_connection((host, int(port)), timeout=20) as torn:
        torn.sendall(head + body[: len(body) // 2])
    with socket.create_connection((host, int(port)), timeout=20) as phone:
        phone.sendall(head + body)
        answer = b"".join(iter(lambda: phone.recv(65536), b""))
    assert answer.startswith(b"HTTP/1.1 201"), answer[:200]
    photo = Photo.objects.get()
    assert (photo.id, photo.subject_id, photo.state) == (id, subject, "ready")
