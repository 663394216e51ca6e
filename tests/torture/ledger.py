"""What the site holds at the end, read from its database file without any of its code, against what was meant."""

import datetime as dt
import json
import sqlite3
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.torture.deeds import Deed

ENTRIES = """SELECT e.id, e.note, e.kind, e.started_at, e.water_m3, e.state, e.details, p.login, e.root_id
  FROM work_entry e JOIN crew_person p ON p.id = e.by_id ORDER BY e.started_at, e.id"""
ZONES = "SELECT entry_id, zone_id FROM work_entryzone"
MINUTES = (
    "SELECT m.entry_id, p.login, m.minutes FROM work_entryperson m JOIN crew_person p ON p.id = m.person_id"
)
PHOTOS = "SELECT subject_id, fingerprint, state, large FROM photos_photo"


@dataclass
class Verdict:
    """How the site's books differ from what was written."""

    entries: int = 0
    photos: int = 0
    missing: list[int] = field(default_factory=list)
    doubled: list[int] = field(default_factory=list)
    altered: list[str] = field(default_factory=list)
    strange: int = 0  # new entries that nobody wrote
    photos_missing: list[int] = field(default_factory=list)
    photos_doubled: int = 0
    photos_unready: int = 0
    in_order: bool = False

    @property
    def faultless(self) -> bool:
        """Whether everything is there, once, unaltered and in order."""
        faults = (
            self.missing, self.doubled, self.altered, self.strange,
            self.photos_missing, self.photos_doubled, self.photos_unready,
        )  # fmt: skip
        return self.in_order and not any(faults)


def known_before(database: Path) -> tuple[set[str], set[str]]:
    """Ids of the entries, and fingerprints of the photos, that the demo brought along."""
    with closing(opened(database)) as books:
        entries = {row[0] for row in books.execute("SELECT id FROM work_entry")}
        return entries, {row[0] for row in books.execute("SELECT fingerprint FROM photos_photo")}


def opened(database: Path) -> sqlite3.Connection:
    """The database, to read."""
    return sqlite3.connect(f"file:{database}?mode=ro", uri=True, timeout=30)


def photos_waiting(database: Path) -> int:
    """Photos that the worker has not prepared yet."""
    with closing(opened(database)) as books:
        return int(books.execute("SELECT count(*) FROM photos_photo WHERE state = 'waiting'").fetchone()[0])


def judge(database: Path, media: Path, deeds: list[Deed], before: tuple[set[str], set[str]]) -> Verdict:
    """Compare what is recorded with what was meant, field by field."""
    with closing(opened(database)) as books:
        rows = [row for row in books.execute(ENTRIES) if row[0] not in before[0]]
        zones, minutes = gathered(books.execute(ZONES)), gathered(books.execute(MINUTES))
        photos = [row for row in books.execute(PHOTOS) if row[1] not in before[1]]
    by_note = {deed.note: deed for deed in deeds}
    mine = [row for row in rows if row[1] in by_note]
    times = Counter(row[1] for row in mine)
    verdict = Verdict(entries=len(mine), photos=len(photos), strange=len(rows) - len(mine))
    verdict.missing = [deed.n for deed in deeds if deed.note not in times]
    verdict.doubled = [deed.n for deed in deeds if times[deed.note] > 1]
    places = sorted({zone for found in zones.values() for (zone,) in found})
    for row in mine:
        verdict.altered += differences(
            row, by_note[row[1]], zones.get(row[0], []), minutes.get(row[0], []), places
        )
    verdict.in_order = [by_note[row[1]].n for row in mine] == sorted(deed.n for deed in deeds)
    judge_photos(verdict, photos, mine, deeds, media)
    return verdict


def gathered(rows: Any) -> dict[str, list[tuple[Any, ...]]]:
    """Rows by their first column."""
    found: dict[str, list[tuple[Any, ...]]] = {}
    for key, *rest in rows:
        found.setdefault(key, []).append(tuple(rest))
    return found


def differences(row: Any, deed: Deed, zones: list[Any], minutes: list[Any], places: list[int]) -> list[str]:
    """How one recorded entry differs from what was meant."""
    _id, _note, kind, started, water, state, details, login, _root = row
    flood = deed.kind == "flood"
    recorded = {
        "kind": kind,
        "started": dt.datetime.fromisoformat(started).replace(tzinfo=dt.UTC),
        "water": None if water is None else round(water * 1000),
        "state": state,
        "by": login,
        "zones": len(zones),
        "minutes": minutes,
        "tools": json.loads(details).get("tools"),
    }
    meant = {
        "kind": deed.kind,
        "started": deed.started,
        "water": deed.litres if flood else None,
        "state": "standing",
        "by": deed.login,
        "zones": len(deed.zones),
        "minutes": [(deed.login, float(deed.minutes))],
        "tools": None if flood else ["shovel"],
    }
    return [
        f"no. {deed.n}: {key} {recorded[key]!r}, meant {meant[key]!r}"
        for key in meant
        if recorded[key] != meant[key]
    ]


def judge_photos(
    verdict: Verdict, photos: list[Any], mine: list[Any], deeds: list[Deed], media: Path
) -> None:
    """Every photo once, with the bytes that were picked, at its own entry, and prepared."""
    roots = {row[1]: row[8] for row in mine}
    held = Counter((subject, mark) for subject, mark, _state, _large in photos)
    wanted = [deed for deed in deeds if deed.photo]
    verdict.photos_missing = [
        deed.n for deed in wanted if not held[(roots.get(deed.note, ""), deed.photo_sha256)]
    ]
    verdict.photos_doubled = len(photos) - len(wanted) + len(verdict.photos_missing)
    verdict.photos_unready = sum(
        state != "ready" or not (media / large).is_file() for _, _, state, large in photos
    )
