"""Backup and restore: the same bytes again, and nothing changed by a file that is not whole, not ours or not safe."""

import datetime as dt
import hashlib
import io
import json
import random
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, default_storage
from django.core.management import call_command

from rinklog.archive.backup import make_backup
from rinklog.archive.csv_out import log_csv
from rinklog.archive.demo.fill import Filled
from rinklog.archive.demo.people import PASSWORD
from rinklog.archive.package import Unusable
from rinklog.archive.restore import restore_backup
from rinklog.archive.tables import is_empty
from rinklog.crew.models import Person
from rinklog.photos.models import Photo
from rinklog.rink.models import Rink
from rinklog.upkeep.models import Claim
from rinklog.work.models import Entry
from tests.archive.conftest import NOW
from tests.support.cast import Cast
from tests.support.emptying import empty_the_site

PICTURE = bytes(range(256)) * 40


@pytest.fixture(autouse=True)
def media(settings, tmp_path: Path) -> Path:  # type: ignore[no-untyped-def]
    settings.MEDIA_ROOT = tmp_path / "media"
    return tmp_path / "media"


def add_photo(rink: Rink, by: Person, name: str = "photos/one.jpg") -> Photo:
    stored = default_storage.save(name, ContentFile(PICTURE))
    return Photo.objects.create(
        id="11111111-2222-3333-4444-555555555555",
        rink=rink,
        subject="entry",
        subject_id="11111111-2222-3333-4444-666666666666",
        by=by,
        recorded_at=NOW,
        state="ready",
        fingerprint=hashlib.sha256(PICTURE).hexdigest(),
        large=stored,
    )


def clear_media() -> None:
    for photo in Photo.objects.all():
        default_storage.delete(photo.large.name)


@pytest.fixture
def backup(cast: Cast, tmp_path: Path) -> Path:
    """A backup of the cast's site, which is then emptied."""
    cast.flood(note="far end first ❄️")
    add_photo(cast.rink, cast.ada)
    path = tmp_path / "site.zip"
    make_backup(path)
    clear_media()
    empty_the_site()
    return path


def test_everything_comes_back_and_gives_the_same_bytes(filled: Filled, tmp_path: Path) -> None:
    add_photo(filled.rink, Person.objects.get(login="odo"))
    log = b"".join(log_csv(filled.rink))
    first, second = tmp_path / "first.zip", tmp_path / "second.zip"
    make_backup(first)
    clear_media()
    empty_the_site()
    restore_backup(first)
    make_backup(second)
    assert second.read_bytes() == first.read_bytes()
    assert b"".join(log_csv(Rink.objects.get())) == log
    with default_storage.open(
        Photo.objects.get(fingerprint=hashlib.sha256(PICTURE).hexdigest()).large.name
    ) as file:
        assert file.read() == PICTURE
    assert Person.objects.get(login="runa").check_password(PASSWORD)


def test_only_this_account_can_read_it_and_the_secret_key_is_not_in_it(backup: Path, settings) -> None:  # type: ignore[no-untyped-def]
    assert backup.stat().st_mode & 0o077 == 0
    with zipfile.ZipFile(backup) as archive:
        everything = b"".join(archive.read(name) for name in archive.namelist())
    assert settings.SECRET_KEY.encode() not in everything
    assert b"far end first" in everything


def test_the_last_letters_are_the_sha256_of_all_before_them(backup: Path) -> None:
    raw = backup.read_bytes()
    assert raw[-64:].decode() == hashlib.sha256(raw[:-64]).hexdigest()


def test_a_site_that_holds_anything_is_not_touched(cast: Cast, tmp_path: Path) -> None:
    make_backup(tmp_path / "site.zip")
    before = set(Person.objects.values_list("login", flat=True))
    with pytest.raises(Unusable, match="not empty"):
        restore_backup(tmp_path / "site.zip")
    assert set(Person.objects.values_list("login", flat=True)) == before


def test_a_flipped_byte_is_refused_wherever_it_is(backup: Path, tmp_path: Path, media: Path) -> None:
    raw = backup.read_bytes()
    dice = random.Random(7)
    places = {0, 1, len(raw) // 2, len(raw) - 90, len(raw) - 65, len(raw) - 64, len(raw) - 1}
    places |= {dice.randrange(len(raw)) for _ in range(150)}
    for place in sorted(places):
        damaged = bytearray(raw)
        damaged[place] ^= 1 << dice.randrange(8)
        assert_refused(bytes(damaged), tmp_path, media)


def test_a_file_cut_short_is_refused_wherever_it_ends(backup: Path, tmp_path: Path, media: Path) -> None:
    raw = backup.read_bytes()
    dice = random.Random(8)
    for length in {0, 1, 63, 64, 65, 200, len(raw) - 1, *(dice.randrange(len(raw)) for _ in range(60))}:
        assert_refused(raw[:length], tmp_path, media)


@pytest.mark.parametrize(
    "raw", [b"", b"PK\x05\x06" + bytes(18), b"id,name\r\n1,Ada\r\n" * 50, b"\x00" * 5000]
)
def test_a_file_of_another_program_is_refused(db: None, raw: bytes, tmp_path: Path, media: Path) -> None:
    empty_the_site()
    assert_refused(raw, tmp_path, media)


def assert_refused(raw: bytes, folder: Path, media: Path, says: str | None = None) -> None:
    path = folder / "damaged.zip"
    path.write_bytes(raw)
    with pytest.raises(Unusable, match=says):
        restore_backup(path)
    assert is_empty()
    assert not [file for file in media.rglob("*") if file.is_file()]


Parts = dict[str, bytes]


def forged(backup: Path, change: Callable[[Parts, dict[str, object]], None], *, honest: bool = True) -> bytes:
    """The backup with its parts changed and sealed again, as somebody with ill will would."""
    with zipfile.ZipFile(backup) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    manifest = json.loads(parts.pop("manifest.json"))
    change(parts, manifest)
    if honest:
        manifest["parts"] = [
            {"name": name, "bytes": len(content), "sha256": hashlib.sha256(content).hexdigest()}
            for name, content in parts.items()
        ]
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
        archive.writestr("manifest.json", json.dumps(manifest))
        archive.comment = b"rinklog backup sha256:" + b"0" * 64
    raw = out.getvalue()[:-64]
    return raw + hashlib.sha256(raw).hexdigest().encode()


def test_the_forging_of_this_test_works_on_a_good_backup(backup: Path, tmp_path: Path) -> None:
    path = tmp_path / "again.zip"
    path.write_bytes(forged(backup, lambda parts, manifest: None))
    restore_backup(path)
    assert Entry.objects.count() == 1


@pytest.mark.parametrize(
    "name",
    [
        "photos/../../escaped.txt",
        "../escaped.txt",
        "/tmp/escaped.txt",
        "photos/a\\..\\b.jpg",
        "photos//etc/x",
        "photos/.ssh/authorized_keys",
        "photos/C:x.jpg",
        "notes.txt",
    ],
)
def test_a_part_that_leads_out_of_the_folder_is_refused(
    backup: Path, tmp_path: Path, media: Path, name: str
) -> None:
    raw = forged(backup, lambda parts, manifest: parts.update({name: b"out"}))
    assert_refused(raw, tmp_path, media)
    assert not list(tmp_path.rglob("escaped*"))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda parts, manifest: manifest.update(format_version=2), "newer"),
        (lambda parts, manifest: manifest.update(format="tar-of-somebody"), "another program"),
        (lambda parts, manifest: manifest["schema"].update(work="0999_from_the_future"), "newer"),
        (lambda parts, manifest: manifest["rows"].update({"moon.phase": 3}), "newer"),
        (lambda parts, manifest: manifest.pop("schema"), "incomplete"),
        (lambda parts, manifest: parts.pop("tables/work.entry.jsonl"), "does not fit|other rows"),
        (lambda parts, manifest: parts.update({"tables/work.entry.jsonl": b"[]\n"}), "does not fit"),
        (lambda parts, manifest: parts.update({"tables/rink.rink.jsonl": b""}), "does not fit"),
    ],
)
def test_a_newer_or_foreign_or_broken_manifest_is_refused(
    backup: Path, tmp_path: Path, media: Path, change: Callable[[Parts, dict[str, object]], None], says: str
) -> None:
    assert_refused(forged(backup, change), tmp_path, media, says)


def test_a_part_that_does_not_fit_its_checksum_is_refused(backup: Path, tmp_path: Path, media: Path) -> None:
    def change(parts: Parts, manifest: dict[str, object]) -> None:
        name = "tables/work.entry.jsonl"
        parts[name] = parts[name].replace(b"far end", b"bar end")

    assert_refused(forged(backup, change, honest=False), tmp_path, media, "checksum")


def test_a_disk_that_fills_up_halfway_leaves_no_row_and_no_photo(
    cast: Cast, tmp_path: Path, media: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_photo(cast.rink, cast.ada)
    default_storage.save("photos/two.jpg", ContentFile(PICTURE))
    Photo.objects.update(small="photos/two.jpg")
    make_backup(tmp_path / "site.zip")
    for name in ("photos/one.jpg", "photos/two.jpg"):
        default_storage.delete(name)
    empty_the_site()
    store = FileSystemStorage.save

    def first_only(storage: object, name: str, content: object) -> str:
        if name.endswith("two.jpg"):
            raise OSError(28, "No space left on device")
        return store(storage, name, content)  # type: ignore[arg-type]

    monkeypatch.setattr(FileSystemStorage, "save", first_only)
    with pytest.raises(Unusable, match="No space left"):
        restore_backup(tmp_path / "site.zip")
    assert is_empty()
    assert not [file for file in media.rglob("*") if file.is_file()]


def test_the_way_in_for_a_first_keeper_closes_when_the_keepers_are_back(backup: Path) -> None:
    Claim.objects.create(token_hash="x", created_at=NOW - dt.timedelta(days=1))
    restore_backup(backup)
    assert not Claim.objects.exists()


def test_the_commands_say_what_they_did(cast: Cast, tmp_path: Path, capsys) -> None:  # type: ignore[no-untyped-def]
    call_command("backup", str(tmp_path / "b.zip"))
    assert "bytes" in capsys.readouterr().out
    with pytest.raises(SystemExit, match="not empty"):
        call_command("restore", str(tmp_path / "b.zip"))
    with pytest.raises(SystemExit, match="cannot be written"):
        call_command("backup", str(tmp_path / "nowhere" / "b.zip"))
    empty_the_site()
    with pytest.raises(SystemExit, match="no file"):
        call_command("restore", str(tmp_path / "c.zip"))
    call_command("restore", str(tmp_path / "b.zip"))
    assert "signs in again" in capsys.readouterr().out
