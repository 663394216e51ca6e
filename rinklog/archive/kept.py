"""The backups that the site keeps by itself: a folder of files that only its own account can read."""

import datetime as dt
import re
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings

from rinklog.archive.backup import make_backup
from rinklog.archive.tables import is_empty

KEEP = 14  # the newest so many stay
FRESH = dt.timedelta(hours=20)
LATE = dt.timedelta(hours=30)
NIGHT_UTC = range(1, 5)
_NAME = re.compile(r"rinklog-(\d{8}T\d{6})Z\.zip")


@dataclass(frozen=True)
class Kept:
    """One kept backup: its file's name, when it was made, its size."""

    name: str
    made_at: dt.datetime
    size_bytes: int


def folder() -> Path:
    """Where they lie, made on first use."""
    place = Path(settings.DATA_DIR) / "backups"
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    return place


def kept() -> list[Kept]:
    """The kept backups, the latest first."""
    found = [(path, _NAME.fullmatch(path.name)) for path in folder().iterdir()]
    backups = [
        Kept(
            path.name,
            dt.datetime.strptime(name[1], "%Y%m%dT%H%M%S").replace(tzinfo=dt.UTC),
            path.stat().st_size,
        )
        for path, name in found
        if name
    ]
    return sorted(backups, key=lambda one: one.name, reverse=True)


def path_of(name: str) -> Path | None:
    """The file of a kept backup; None for any other name."""
    path = folder() / name
    return path if _NAME.fullmatch(name) and path.is_file() else None


def is_due(now: dt.datetime) -> bool:
    """Whether a backup should be made: every night, or by day when the night was slept through."""
    backups = kept()
    if is_empty():
        return False
    age = now - backups[0].made_at if backups else LATE
    return asked_for().exists() or age >= LATE or (age >= FRESH and now.hour in NIGHT_UTC)


def ask() -> None:
    """Ask for a backup now; the asking outlives a lost message."""
    asked_for().touch(mode=0o600)


def is_asked() -> bool:
    """Whether somebody waits for a backup."""
    return asked_for().exists()


def keep_one(now: dt.datetime) -> str:
    """Make a backup, let the oldest go, and return the name of the new one."""
    name = f"rinklog-{now.astimezone(dt.UTC):%Y%m%dT%H%M%S}Z.zip"
    make_backup(folder() / name)
    asked_for().unlink(missing_ok=True)
    for old in kept()[KEEP:]:
        (folder() / old.name).unlink(missing_ok=True)
    return name


def asked_for() -> Path:
    """The empty file that says somebody waits."""
    return folder() / "asked-for"
