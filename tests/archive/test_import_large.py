"""Five thousand rows: progress is told all along, all of it arrives, and nothing does when one row is wrong."""

from uuid import uuid4

import pytest
from django.core.files.base import ContentFile

from rinklog.archive import services
from rinklog.archive.csv_out import log_csv
from rinklog.archive.models import Import
from rinklog.work.models import Entry, EntryZone
from rinklog.work.queries import season_sums
from tests.support.cast import NOW, Cast

ROWS = 5000


def large_file(cast: Cast) -> bytes:
    """The log of one flood with 5,000 others like it behind."""
    flood = cast.flood()
    raw = b"".join(log_csv(cast.rink))
    line = raw.splitlines(keepends=True)[-1]
    return raw + b"".join(line.replace(str(flood.id).encode(), str(uuid4()).encode()) for _ in range(ROWS))


def receive(cast: Cast, raw: bytes) -> Import:
    file = ContentFile(raw, name="log.csv")
    return services.receive_import(id=uuid4(), rink=cast.rink, file=file, by=cast.ada, now=NOW)


@pytest.mark.slow
def test_five_thousand_rows_show_progress_and_all_arrive(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    one = receive(cast, large_file(cast))
    told: list[tuple[int, int]] = []
    update = type(Import.objects.all()).update

    def noting(self, **values):  # type: ignore[no-untyped-def]
        if self.model is Import and "total" in values:
            told.append((values["done"], values["total"]))
        return update(self, **values)

    monkeypatch.setattr(type(Import.objects.all()), "update", noting)
    services.check_import(id=one.id, now=NOW)
    one.refresh_from_db()
    assert (one.state, one.report["new"]["entry"], one.report["count"]) == ("checked", ROWS, 0)
    assert len(told) >= 10
    assert told == sorted(told)
    assert told[-1] == (ROWS, ROWS)
    assert services.start_import(one=one, now=NOW)
    services.apply_import(id=one.id, now=NOW)
    one.refresh_from_db()
    assert one.state == "done"
    assert Entry.objects.count() == ROWS + 1
    assert EntryZone.objects.count() == 2 * (ROWS + 1)
    assert season_sums(cast.season).water_m3 == pytest.approx(0.4 * (ROWS + 1))


@pytest.mark.slow
def test_one_wrong_row_of_five_thousand_keeps_all_out(cast: Cast) -> None:
    raw = large_file(cast)
    lines = raw.splitlines(keepends=True)
    lines[3000] = lines[3000].replace(b",0.4,", b",much,")
    one = receive(cast, b"".join(lines))
    services.check_import(id=one.id, now=NOW)
    one.refresh_from_db()
    assert [problem[:3] for problem in one.report["problems"]] == [[3001, "water_m3", "much"]]
    # Even a task that is told to go on against the report writes nothing.
    Import.objects.filter(id=one.id).update(state="importing")
    services.apply_import(id=one.id, now=NOW)
    one.refresh_from_db()
    assert one.state == "checked"
    assert Entry.objects.count() == 1
