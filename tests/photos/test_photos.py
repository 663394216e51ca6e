"""Photos as rows: received, claimed, prepared, swept, taken back. No acknowledged photo is lost, none is made twice."""

import datetime as dt
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, default_storage

from rinklog.facts import Conflict, Refused
from rinklog.photos import queries, services, tasks
from rinklog.photos.models import Photo
from tests.support.cast import NOW, Cast
from tests.support.photos import a_photo, a_picture, received

MINUTE = dt.timedelta(minutes=1)


def files_of(photo: Photo) -> list[Path]:
    """Every file that is kept for a photo, looked up on the disk itself."""
    return sorted(Path(default_storage.path(f"photos/{photo.rink_id}/{photo.id}")).glob("*"))


def test_a_received_photo_waits_and_a_prepared_one_has_two_sizes_and_no_more(cast: Cast) -> None:
    photo = received(cast, a_picture(2000, 1500))
    assert photo.state == "waiting"
    assert [path.suffix for path in files_of(photo)] == [".arrived"]
    assert services.prepare(id=photo.id, now=NOW)
    photo.refresh_from_db()
    assert (photo.state, photo.width_px, photo.height_px) == ("ready", 1600, 1200)
    assert photo.arrived.name == ""
    assert [path.suffix for path in files_of(photo)] == [".jpg", ".jpg"]
    assert not services.prepare(id=photo.id, now=NOW)


def test_a_replayed_photo_is_the_same_and_other_bytes_are_a_conflict(cast: Cast) -> None:
    id, data = uuid4(), a_picture()
    first = received(cast, data, id=id)
    assert received(cast, data, id=id) == first
    assert Photo.objects.count() == 1
    assert len(files_of(first)) == 1
    with pytest.raises(Conflict):
        received(cast, a_picture(320, 240), id=id)
    assert len(files_of(first)) == 1


def test_a_photo_replayed_after_it_was_prepared_is_not_prepared_again(cast: Cast) -> None:
    id, data = uuid4(), a_picture()
    photo = a_photo(cast, data, id=id)
    before = files_of(photo)
    assert received(cast, data, id=id).state == "ready"
    assert files_of(photo) == before


def test_what_is_no_picture_leaves_nothing_behind(cast: Cast) -> None:
    with pytest.raises(Refused, match="allowed are JPEG, PNG, WebP and GIF"):
        received(cast, b"<html>not a picture</html>")
    with pytest.raises(Refused, match="HEIC"):
        received(cast, b"\0\0\0\x18ftypheic\0\0\0\0mif1heic")
    with pytest.raises(Refused, match="“cellar” cannot have photos"):
        received(cast, a_picture(), subject="cellar")
    assert not Photo.objects.exists()
    assert not Path(default_storage.path("photos")).joinpath(str(cast.rink.id)).exists()


def test_a_cut_off_photo_is_refused_by_a_code_and_its_file_is_forgotten(cast: Cast) -> None:
    data = a_picture(1200, 900)
    photo = a_photo(cast, data[: len(data) // 2])
    assert (photo.state, photo.refusal) == ("refused", "truncated")
    assert files_of(photo) == []


def test_one_claim_at_a_time(cast: Cast) -> None:
    photo = received(cast, a_picture())
    Photo.objects.filter(id=photo.id).update(claimed_at=NOW, tries=1)
    assert not services.prepare(id=photo.id, now=NOW + MINUTE)  # somebody is at it
    assert services.prepare(id=photo.id, now=NOW + 7 * MINUTE)  # that one died
    photo.refresh_from_db()
    assert photo.state == "ready"


def test_whose_claim_lapsed_throws_its_own_work_away(cast: Cast) -> None:
    photo = received(cast, a_picture())
    Photo.objects.filter(id=photo.id).update(claimed_at=NOW)
    slow = Photo.objects.get(id=photo.id)
    services.prepare(id=photo.id, now=NOW + 7 * MINUTE)
    kept = files_of(photo)
    with default_storage.open(Photo.objects.get(id=photo.id).large.name) as file:
        sizes = services.pictures.make_sizes(file)
    assert not services._keep(slow, sizes)
    assert files_of(photo) == kept


def test_whose_claim_passed_to_another_leaves_the_file_for_that_one(cast: Cast) -> None:
    photo = received(cast, a_picture())
    Photo.objects.filter(id=photo.id).update(claimed_at=NOW)
    slow = Photo.objects.get(id=photo.id)
    Photo.objects.filter(id=photo.id).update(claimed_at=NOW + 7 * MINUTE)
    assert not services._finish(slow, state="refused", refusal="broken")
    assert [path.suffix for path in files_of(photo)] == [".arrived"]


def test_who_dies_five_times_at_a_photo_gives_it_up(cast: Cast) -> None:
    photo = received(cast, a_picture())
    Photo.objects.filter(id=photo.id).update(claimed_at=NOW, tries=5)
    services.prepare(id=photo.id, now=NOW + 7 * MINUTE)
    photo.refresh_from_db()
    assert (photo.state, photo.refusal) == ("refused", "gave-up")


def test_a_photo_whose_file_is_gone_says_so(cast: Cast) -> None:
    photo = received(cast, a_picture())
    files_of(photo)[0].unlink()
    services.prepare(id=photo.id, now=NOW)
    photo.refresh_from_db()
    assert (photo.state, photo.refusal) == ("refused", "lost")


def test_a_disk_in_trouble_is_not_the_photos_fault(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    photo = received(cast, a_picture())

    def full(*_: object) -> str:
        raise OSError(28, "No space left on device")

    # On the class: undoing a patch of the one storage would leave its old method behind and hide later patches.
    monkeypatch.setattr(FileSystemStorage, "save", full)
    with pytest.raises(OSError, match="No space"):
        services.prepare(id=photo.id, now=NOW)
    monkeypatch.undo()
    assert services.prepare(id=photo.id, now=NOW + 7 * MINUTE)
    assert Photo.objects.get().state == "ready"


def test_the_sweep_finds_what_waits_and_leaves_what_is_young_or_in_work(cast: Cast) -> None:
    young, lost, dead, busy = (received(cast, a_picture(40 + n, 30)) for n in range(4))
    now = NOW + 10 * MINUTE
    for photo, changes in (
        (young, {"recorded_at": now}),
        (dead, {"claimed_at": now - 7 * MINUTE}),
        (busy, {"claimed_at": now - MINUTE}),
    ):
        Photo.objects.filter(id=photo.id).update(**changes)
    assert {photo.id for photo in queries.overdue(now)} == {lost.id, dead.id}


@pytest.mark.django_db
def test_a_queue_that_cannot_be_reached_costs_nothing_but_time(
    cast: Cast,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
    django_capture_on_commit_callbacks: Any,
) -> None:
    from kombu.exceptions import OperationalError

    photo = received(cast, a_picture())

    def down(*_: object, **__: object) -> None:
        raise OperationalError("nobody answers")

    monkeypatch.setattr(tasks.prepare_photo, "apply_async", down)
    with django_capture_on_commit_callbacks(execute=True):
        tasks.prepare_soon(photo.id)
    assert "waits for the sweep" in caplog.text
    monkeypatch.undo()
    with django_capture_on_commit_callbacks(execute=True):
        tasks.sweep_waiting()  # NOW of the cast is long ago: the photo is overdue
    assert Photo.objects.get().state == "ready"


def test_a_file_as_it_came_that_a_crash_left_is_deleted_by_the_sweep(cast: Cast) -> None:
    photo = a_photo(cast)
    name = default_storage.save("photos/left.arrived", ContentFile(b"holds a place"))
    Photo.objects.filter(id=photo.id).update(arrived=name)
    tasks.sweep_waiting()
    assert not default_storage.exists(name)
    assert Photo.objects.get().arrived.name == ""


def test_a_photo_taken_back_loses_its_files_and_keeps_its_row(cast: Cast) -> None:
    for photo in (a_photo(cast), received(cast, a_picture())):
        assert services.take_back(photo=photo, now=NOW)
        assert not services.take_back(photo=photo, now=NOW)
        assert files_of(photo) == []
        assert Photo.objects.filter(id=photo.id, taken_back_at=NOW).exists()
        assert queries.photo(cast.rink, photo.id) is None
        assert not services.prepare(id=photo.id, now=NOW)


def test_a_photo_may_arrive_before_what_it_shows(cast: Cast) -> None:
    id = uuid4()
    photo = received(cast, a_picture(), subject="entry", subject_id=id)
    entry = cast.flood(id=id)
    assert [shown.id for shown in queries.photos_of(cast.rink, "entry", [entry.root_id])] == [photo.id]
    assert not queries.photos_of(cast.other_rink, "entry", [UUID(str(id))])
