"""The archive pages: the log out and in, backups by button, and who gets which."""

import datetime as dt
import zipfile
from pathlib import Path
from uuid import uuid4

import pytest
from django.core.files.base import ContentFile
from django.test import Client
from django.urls import reverse

from rinklog.archive import kept, queries, services, tasks
from rinklog.archive.models import Import
from rinklog.crew.models import Membership
from rinklog.work.models import Entry
from tests.support.cast import NOW, Cast
from tests.web.test_who_may import signed_in


@pytest.fixture(autouse=True)
def data(settings, tmp_path: Path) -> Path:  # type: ignore[no-untyped-def]
    """A data folder of the test's own."""
    settings.DATA_DIR = tmp_path
    return tmp_path


def page(cast: Cast, name: str, /, **more: object) -> str:
    return reverse(name, kwargs={"slug": cast.rink.slug} | more)


def exported(cast: Cast, ada: Client) -> bytes:
    return b"".join(ada.get(page(cast, "log-csv")).streaming_content)


def send(cast: Cast, ada: Client, raw: bytes, execute) -> Import:  # type: ignore[no-untyped-def]
    id = uuid4()
    with execute(execute=True):
        answer = ada.post(page(cast, "import-post"), {"id": id, "file": ContentFile(raw, name="log.csv")})
    assert answer.status_code == 302
    return Import.objects.get(id=id)


def keep_both(cast: Cast) -> None:
    Membership.objects.create(person=cast.ada, rink=cast.other_rink, role="keeper", since=NOW)


def test_a_changed_file_is_checked_shown_and_then_imported_once(
    cast: Cast, django_capture_on_commit_callbacks
) -> None:  # type: ignore[no-untyped-def]
    cast.flood(note="here already")
    ada = signed_in(cast, "ada")
    raw = exported(cast, ada)
    new = str(uuid4()).encode()
    old = str(Entry.objects.get().id).encode()
    raw += raw.splitlines(keepends=True)[-1].replace(old, new)
    one = send(cast, ada, raw, django_capture_on_commit_callbacks)
    assert one.state == "checked"
    assert one.report["new"] == {"entry": 1}
    assert one.report["here"] == {"entry": 1}
    shown = ada.get(page(cast, "import", id=one.id)).content.decode()
    assert "Import now" in shown
    for _ in range(2):
        with django_capture_on_commit_callbacks(execute=True):
            ada.post(page(cast, "import-start", id=one.id))
    one.refresh_from_db()
    assert (one.state, one.report["added"]["entry"], Entry.objects.count()) == ("done", 1, 2)


def test_what_is_wrong_is_shown_and_nothing_can_be_imported(
    cast: Cast, django_capture_on_commit_callbacks
) -> None:  # type: ignore[no-untyped-def]
    cast.flood()
    ada = signed_in(cast, "ada")
    raw = exported(cast, ada).replace(b",flood,", b",polish,").replace(b"cleo:30.0", b"cleo:=9")
    one = send(cast, ada, raw, django_capture_on_commit_callbacks)
    shown = ada.get(page(cast, "import", id=one.id)).content.decode()
    assert "Row 4" in shown
    assert "Import now" not in shown
    with django_capture_on_commit_callbacks(execute=True):
        ada.post(page(cast, "import-start", id=one.id))
    one.refresh_from_db()
    assert (one.state, Entry.objects.count()) == ("checked", 1)
    problems = ada.get(page(cast, "import-problems", id=one.id)).content.decode()
    assert problems.startswith("row,column,value,reason\r\n4,")


def test_an_import_that_stands_still_is_queued_again(cast: Cast, django_capture_on_commit_callbacks) -> None:
    file = ContentFile(b"record,by,name\r\nperson,cleo,Cleo\r\n", name="log.csv")
    one = services.receive_import(id=uuid4(), rink=cast.rink, file=file, by=cast.ada, now=NOW)
    assert list(queries.standing_still(NOW + dt.timedelta(minutes=7))) == [one]
    with django_capture_on_commit_callbacks(execute=True):
        tasks.sweep_imports()
    one.refresh_from_db()
    assert one.state == "checked"


def test_a_page_of_a_busy_import_asks_again_with_and_without_script(cast: Cast) -> None:
    file = ContentFile(b"record,by,name\r\n", name="log.csv")
    one = services.receive_import(id=uuid4(), rink=cast.rink, file=file, by=cast.ada, now=NOW)
    Import.objects.filter(id=one.id).update(done=2500, total=5000)
    shown = signed_in(cast, "ada").get(page(cast, "import", id=one.id)).content.decode()
    assert 'hx-trigger="every 1s"' in shown
    assert "Look again" in shown
    assert "2,500 of 5,000" in shown or "2500 of 5000" in shown


def test_no_file_and_an_empty_file_are_refused_with_a_sentence(cast: Cast) -> None:
    ada = signed_in(cast, "ada")
    none = ada.post(page(cast, "import-post"), {"id": uuid4()})
    empty = ada.post(page(cast, "import-post"), {"id": uuid4(), "file": ContentFile(b"", name="log.csv")})
    assert (none.status_code, empty.status_code) == (422, 422)
    assert "No file is chosen" in none.content.decode()
    assert "The file is empty" in empty.content.decode()


def test_a_backup_is_made_by_button_and_handed_out_to_who_keeps_every_rink(
    cast: Cast, data: Path, django_capture_on_commit_callbacks
) -> None:
    keep_both(cast)
    ada = signed_in(cast, "ada")
    with django_capture_on_commit_callbacks(execute=True):
        ada.post(page(cast, "backup-make"))
    names = [one.name for one in kept.kept()]
    assert len(names) == 1
    answer = ada.get(page(cast, "backup", name=names[0]))
    assert answer.headers["Cache-Control"] == "no-store"
    (data / "copy.zip").write_bytes(b"".join(answer.streaming_content))
    assert zipfile.ZipFile(data / "copy.zip").testzip() is None
    assert kept.folder().stat().st_mode & 0o077 == 0


def test_who_keeps_one_of_two_rinks_gets_no_backup_and_is_told_why(cast: Cast) -> None:
    name = kept.keep_one(NOW)
    ada = signed_in(cast, "ada")
    assert ada.get(page(cast, "backup", name=name)).status_code == 404
    assert ada.post(page(cast, "backup-make")).status_code == 404
    shown = ada.get(page(cast, "archive")).content.decode()
    assert "every rink of this site" in shown
    assert name not in shown


@pytest.mark.parametrize("name", ["..%2fsecret", "rinklog.sqlite3", "asked-for"])
def test_no_other_file_of_the_folder_is_handed_out(cast: Cast, name: str) -> None:
    keep_both(cast)
    kept.ask()
    path = page(cast, "archive") + f"backup/{name}"
    assert signed_in(cast, "ada").get(path).status_code == 404


def test_fourteen_backups_stay_and_the_oldest_go(cast: Cast) -> None:
    for night in range(16):
        kept.keep_one(NOW + dt.timedelta(days=night))
    names = [one.name for one in kept.kept()]
    assert len(names) == 14
    assert names[0] == "rinklog-20260130T203000Z.zip"
    assert names[-1] == "rinklog-20260117T203000Z.zip"


def test_a_backup_is_due_at_night_or_when_a_night_was_slept_through(cast: Cast) -> None:
    night = dt.datetime(2026, 1, 16, 2, 0, tzinfo=dt.UTC)
    assert kept.is_due(night)
    kept.keep_one(night)
    assert not kept.is_due(night + dt.timedelta(hours=1))
    assert not kept.is_due(night + dt.timedelta(hours=19))
    assert kept.is_due(night + dt.timedelta(hours=24))
    assert kept.is_due(night + dt.timedelta(hours=31))
    kept.ask()
    assert kept.is_due(night + dt.timedelta(hours=1))
