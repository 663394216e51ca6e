"""Files as they come: each fault is named by row, column and reason, and nothing is imported."""

import csv
import io
from collections.abc import Callable

import pytest

from rinklog.archive import csv_read
from rinklog.archive.csv_check import check
from rinklog.archive.csv_in import write
from rinklog.archive.csv_out import log_csv
from rinklog.archive.csv_read import Unreadable, read_table
from rinklog.archive.plan import Plan
from rinklog.crew.models import Person
from rinklog.facts import Refused
from rinklog.work.models import Entry
from tests.support.cast import NOW, Cast
from tests.support.emptying import begin_again

Row = dict[str, str]


class Bench:
    """A rink with one exported flood, emptied, to import changed files into."""

    def __init__(self, cast: Cast) -> None:
        cast.flood(note="far end first")
        self.raw = b"".join(log_csv(cast.rink))
        self.rink, self.keeper = begin_again(NOW)

    def changed(self, change: Callable[[list[Row]], object]) -> bytes:
        """The file with its rows changed."""
        reader = csv.DictReader(io.StringIO(self.raw.decode(), newline=""))
        rows = list(reader)
        change(rows)
        out = io.StringIO(newline="")
        writer = csv.DictWriter(out, reader.fieldnames or [], lineterminator="\r\n")
        writer.writeheader()
        writer.writerows(rows)
        return out.getvalue().encode()

    def check(self, raw: bytes, who: dict[str, str] | None = None) -> Plan:
        return check(read_table(raw), self.rink, now=NOW, who=who)


@pytest.fixture
def bench(cast: Cast) -> Bench:
    return Bench(cast)


# The rows of the file: 1 header, 2 person cleo, 3 season, 4 the flood.
@pytest.mark.parametrize(
    ("column", "value", "says"),
    [
        ("at", "yesterday", "time with its offset"),
        ("at", "2026-01-15T20:30:00", "time with its offset"),
        ("at", "2036-01-15T20:30:00+00:00", "in the future"),
        ("ended_at", "2020-01-15T20:30:00+00:00", "before it began"),
        ("id", "", "is empty"),
        ("id", "seven", "an id"),
        ("root", "00000001-0000-4000-8000-000000000000", "its own root"),
        ("amends", "00000002-0000-4000-8000-000000000000", "no entry of the file"),
        ("kind", "polish", "allowed are"),
        ("state", "perhaps", "allowed are"),
        ("state", "replaced", "nothing in the file amends it"),
        ("season", "1887", "no season"),
        ("grid", "4 by 8", "8x4 40.0x20.0 r4.0"),
        ("grid", "8x400 40.0x20.0 r4.0", "8x4 40.0x20.0 r4.0"),
        ("zones", "A1 K9", "not a zone"),
        ("zones", "", "at least one zone"),
        ("people_minutes", "cleo", "a colon"),
        ("people_minutes", "cleo:-5", "from 0 up"),
        ("people_minutes", "cleo:NaN", "from 0 up"),
        ("water_m3", "a bucket", "a number"),
        ("water_m3", "1,5", "a number"),
        ("water_m3", "nan", "a number"),
        ("water_m3", "", "Water is empty"),
        ("repairs", "00000003-0000-4000-8000-000000000000", "no hazard"),
        ("lesson", "maybe", "yes, or nothing"),
        ("detail_by", "guess", "allowed are"),
        ("detail_water", "", "needed"),
        ("details_json", "{", "JSON object"),
        ("details_json", '{"colour": "blue"}', "not part of this kind"),
        ("seen_sky", "x" * 13, "more than 12"),
        ("reason", "x" * 401, "more than 400"),
        ("record", "flood", "allowed are"),
        ("note", "a\0b", "NUL byte"),
    ],
)
def test_a_bad_cell_is_named_by_row_column_and_reason(
    bench: Bench, column: str, value: str, says: str
) -> None:
    plan = bench.check(bench.changed(lambda rows: rows[2].update({column: value})))
    first = plan.problems[0]
    assert first.row == 4
    assert first.column == column
    assert says in first.reason
    with pytest.raises(Refused):
        write(plan, rink=bench.rink, by=bench.keeper, now=NOW)
    assert not Entry.objects.exists()


def test_one_bad_row_keeps_the_good_ones_out(bench: Bench) -> None:
    def add(rows: list[Row]) -> None:
        other = "00000004-0000-4000-8000-000000000000"
        rows.append(rows[2] | {"id": other, "root": other, "kind": "polish"})

    plan = bench.check(bench.changed(add))
    assert [problem.row for problem in plan.problems] == [5]
    with pytest.raises(Refused):
        write(plan, rink=bench.rink, by=bench.keeper, now=NOW)
    assert not Entry.objects.exists()
    assert not Person.objects.filter(login="cleo").exists()


def test_the_same_id_twice_in_a_file_is_named(bench: Bench) -> None:
    plan = bench.check(bench.changed(lambda rows: rows.append(rows[2])))
    assert [(one.row, one.column) for one in plan.problems] == [(5, "id")]
    assert "twice" in plan.problems[0].reason


def test_the_same_id_with_other_content_is_named(bench: Bench) -> None:
    plan = bench.check(bench.raw)
    write(plan, rink=bench.rink, by=bench.keeper, now=NOW)
    again = bench.check(bench.changed(lambda rows: rows[2].update(note="near end first")))
    assert [(one.row, one.column) for one in again.problems] == [(4, "id")]
    assert "other content" in again.problems[0].reason


@pytest.mark.parametrize(
    "dress",
    [
        lambda text: b"\xef\xbb\xbf" + text.encode(),
        lambda text: text.encode("utf-16"),
        lambda text: text.encode("cp1252"),
        lambda text: text.replace("\r\n", "\n").encode(),
        lambda text: semicolons(text).encode(),
        lambda text: semicolons(text, comma=True).encode("cp1252"),
        lambda text: (text + "\r\n \r\n").encode(),
    ],
    ids=["bom", "utf-16", "windows-1252", "lf", "semicolons", "decimal commas", "blank lines"],
)
def test_a_file_that_passed_through_another_program_is_read(
    bench: Bench, dress: Callable[[str], bytes]
) -> None:
    text = bench.changed(lambda rows: rows[2].update(note="Kälte überall")).decode()
    plan = bench.check(dress(text))
    assert plan.problems == []
    write(plan, rink=bench.rink, by=bench.keeper, now=NOW)
    entry = Entry.objects.get()
    assert entry.note == "Kälte überall"
    assert entry.water_m3 == 0.4


def semicolons(text: str, *, comma: bool = False) -> str:
    """The file as a spreadsheet saves it where numbers have decimal commas."""
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, rows[0].keys(), delimiter=";", lineterminator="\r\n")
    writer.writeheader()
    for row in rows:
        if comma:
            row["water_m3"] = row["water_m3"].replace(".", ",")
        writer.writerow(row)
    return out.getvalue()


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"", "no column"),
        (b"time,what\r\n1,2\r\n", "no column"),
        (b"record,colour\r\nentry,blue\r\n", "unknown"),
        (b"record,record\r\nentry,entry\r\n", "twice"),
        (b"record,id\r\nentry,1\r\n", "missing"),
        (b'record,id\r\nentry,"1\r\n', "quotation mark"),
        (b'record,id\r\nentry,"1"2\r\n', "quotation mark"),
        (b"\x89PNG\r\n\x1a\n\x00\x81\x8d", "no text"),
        (b"PK\x03\x04" + bytes(range(256)), "no text"),
        (b"record,note\r\nentry," + b"x" * 200_000 + b"\r\n", "quotation mark"),
    ],
)
def test_a_file_that_is_no_log_is_refused_with_a_sentence(bench: Bench, raw: bytes, says: str) -> None:
    with pytest.raises(Unreadable) as refused:
        bench.check(raw)
    assert says in str(refused.value)


def test_a_huge_file_is_refused_with_a_sentence(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_read, "MOST_BYTES", len(bench.raw) - 1)
    with pytest.raises(Unreadable, match="season by season"):
        bench.check(bench.raw)
    monkeypatch.setattr(csv_read, "MOST_BYTES", len(bench.raw))
    monkeypatch.setattr(csv_read, "MOST_ROWS", 2)
    with pytest.raises(Unreadable, match="more than 2 rows"):
        bench.check(bench.raw)


def test_a_short_row_is_named(bench: Bench) -> None:
    plan = bench.check(bench.raw + b"entry,1,2\r\n")
    assert [(one.row, one.column) for one in plan.problems] == [(5, "record")]
    assert "3 cells" in plan.problems[0].reason


def test_somebody_unknown_comes_as_former_crew_who_cannot_sign_in(bench: Bench) -> None:
    plan = bench.check(bench.raw)
    assert plan.people == {"cleo": "Cleo"}
    write(plan, rink=bench.rink, by=bench.keeper, now=NOW)
    cleo = Person.objects.get(login="cleo")
    assert not cleo.is_active
    assert not cleo.has_usable_password()
    assert cleo.memberships.get().left_at is not None


def test_somebody_of_another_rinks_crew_is_refused_until_it_is_said_who_it_is(bench: Bench) -> None:
    Person.objects.create(login="Cleo", name="Another Cleo")
    plan = bench.check(bench.raw)
    assert plan.strangers == ["cleo"]
    assert {problem.column for problem in plan.problems} == {"people_minutes"}
    mapped = bench.check(bench.raw, {"cleo": "kim"})
    assert mapped.problems == []
    write(mapped, rink=bench.rink, by=bench.keeper, now=NOW)
    entry = Entry.objects.get()
    assert entry.by == bench.keeper
    assert entry.people.get().person == bench.keeper


def test_an_id_of_another_rink_is_refused_without_saying_whose(cast: Cast) -> None:
    cast.flood()
    raw = b"".join(log_csv(cast.rink))
    plan = check(read_table(raw), cast.other_rink, now=NOW, who={"cleo": "rut"})
    assert [problem.column for problem in plan.problems] == ["id"]
    assert cast.rink.name not in plan.problems[0].reason
