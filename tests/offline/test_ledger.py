"""The ledger of a torture run sees every kind of loss: a run that is judged by it means something."""

import datetime as dt
import hashlib
import json
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from tests.torture.deeds import Deed
from tests.torture.fates import WEIGHTS, Fates
from tests.torture.ledger import Verdict, judge
from tests.torture.report import as_json, lines
from tests.torture.run import Plan, Report

START = dt.datetime(2026, 1, 15, 20, 0, tzinfo=dt.UTC)
NOBODY: tuple[set[str], set[str]] = (set(), set())
TABLES = """
CREATE TABLE crew_person (id, login);
CREATE TABLE work_entry (id, note, kind, started_at, water_m3, state, details, by_id, root_id);
CREATE TABLE work_entryzone (entry_id, zone_id);
CREATE TABLE work_entryperson (entry_id, person_id, minutes);
CREATE TABLE photos_photo (subject_id, fingerprint, state, large);
INSERT INTO crew_person VALUES ('p', 'runa');
"""
MARK = hashlib.sha256(b"picture").hexdigest()
DEEDS = [
    Deed(n, "runa", "flood", START + dt.timedelta(minutes=n), (0,), 100 + n, 5, f"no. {n}", None)
    for n in range(2)
] + [Deed(2, "runa", "snow-removal", START + dt.timedelta(minutes=2), (0, 1), 0, 5, "no. 2", Path("x"), MARK)]


def books(folder: Path) -> sqlite3.Connection:
    """Books as they should be."""
    (folder / "large.jpg").write_bytes(b"picture")
    found = sqlite3.connect(folder / "books")
    found.executescript(TABLES)
    for deed in DEEDS:
        water = None if deed.kind == "snow-removal" else deed.litres / 1000
        details = {"tools": ["shovel"]} if water is None else {}
        row = (
            f"e{deed.n}",
            deed.note,
            deed.kind,
            deed.started.strftime("%Y-%m-%d %H:%M:%S"),
            water,
            "standing",
        )
        found.execute(
            "INSERT INTO work_entry VALUES (?,?,?,?,?,?,?,'p',?)", (*row, json.dumps(details), f"e{deed.n}")
        )
        found.executemany(
            "INSERT INTO work_entryzone VALUES (?,?)", [(f"e{deed.n}", zone) for zone in deed.zones]
        )
        found.execute("INSERT INTO work_entryperson VALUES (?,'p',5.0)", (f"e{deed.n}",))
    found.execute("INSERT INTO photos_photo VALUES ('e2', ?, 'ready', 'large.jpg')", (MARK,))
    found.commit()
    return found


def verdict_after(folder: Path, harm: str) -> Verdict:
    """What the ledger says of books to which something was done."""
    found = books(folder)
    found.executescript(harm)
    found.close()
    return judge(folder / "books", folder, DEEDS, NOBODY)


def test_books_as_they_should_be_are_faultless(tmp_path: Path) -> None:
    assert verdict_after(tmp_path, "").faultless


TWICE = (
    "INSERT INTO work_entry SELECT 'again', note, kind, started_at, water_m3, state, details, by_id, 'again'"
)


@pytest.mark.parametrize(
    ("harm", "what"),
    [
        ("DELETE FROM work_entry WHERE id = 'e1'", "missing"),
        (f"{TWICE} FROM work_entry WHERE id = 'e1'", "doubled"),
        ("UPDATE work_entry SET water_m3 = 0.3 WHERE id = 'e1'", "altered"),
        ("UPDATE work_entry SET started_at = '2026-01-15 20:05:00' WHERE id = 'e0'", "altered"),
        ("DELETE FROM work_entryzone WHERE entry_id = 'e2' AND zone_id = 1", "altered"),
        ("UPDATE work_entry SET note = 'nobody wrote this' WHERE id = 'e1'", "strange"),
        ("DELETE FROM photos_photo", "photos_missing"),
        ("UPDATE photos_photo SET subject_id = 'e1'", "photos_missing"),
        ("INSERT INTO photos_photo SELECT * FROM photos_photo", "photos_doubled"),
        ("UPDATE photos_photo SET state = 'waiting'", "photos_unready"),
    ],
)
def test_every_harm_is_seen(tmp_path: Path, harm: str, what: str) -> None:
    verdict = verdict_after(tmp_path, harm)
    assert getattr(verdict, what)
    assert not verdict.faultless


def test_the_same_seed_draws_the_same_fates_and_a_calm_harms_nothing() -> None:
    first, second = (Fates(5, storm=True) for _ in range(2))
    drawn = [first.draw() for _ in range(500)]
    assert drawn == [second.draw() for _ in range(500)]
    assert set(drawn) == set(WEIGHTS)
    assert {Fates(5).draw() for _ in range(50)} == {"in calm"}


def test_a_report_can_be_read_by_people_and_by_programs() -> None:
    plan = Plan(entries=2, photos=1, phones=1, kills=0, seed=5, minutes=1)
    fates = {"passed": 7, "lost after": 2}
    report = Report(
        plan, Verdict(entries=2, photos=1, in_order=True), fates, {"tabs closed": 1}, 0, [], 1, 12.3
    )
    assert report.holds
    assert json.loads(as_json(report))["fates"] == fates
    assert lines(report)[-1] == "nothing lost, nothing doubled, nothing altered"
    assert lines(replace(report, left=["runa: one"]))[-1] == "DOES NOT HOLD"
