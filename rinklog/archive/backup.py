"""Everything the clubs of a site have, in one file, while they go on writing."""

import json
import os
import tempfile
import zipfile
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files.storage import default_storage
from django.db import connection
from django.db.migrations.loader import MigrationLoader

from rinklog.archive import package
from rinklog.archive.snapshot import snapshot
from rinklog.archive.tables import dump, file_names, tables
from rinklog.version import VERSION

TRIES = 3
# What the site ran with, to compare by. Never the secret key, an address with a password in it, or a place on a disk.
SHOWN_SETTINGS = (
    "LANGUAGE_CODE",
    "TIME_ZONE",
    "PRODUCTION",
    "BEHIND_PROXY",
    "ALLOWED_HOSTS",
    "CSRF_TRUSTED_ORIGINS",
)


class _Vanished(Exception):
    """A stored file was put elsewhere while the backup was made."""


def make_backup(path: Path) -> None:
    """Write a backup to `path`, readable by this account only; it appears there whole or not at all.

    The same content gives the same bytes. Errors: OSError when it cannot be written.
    """
    handle, partial = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    os.close(handle)  # mkstemp makes it 0600
    try:
        for turn in range(TRIES):
            try:
                write(Path(partial), strict=turn < TRIES - 1)
                break
            except _Vanished:
                continue
        package.seal(Path(partial))
        os.replace(partial, path)
    finally:
        Path(partial).unlink(missing_ok=True)


def write(path: Path, *, strict: bool) -> None:
    """Write the parts; when `strict`, a photo that vanished meanwhile makes it start again."""
    rows: dict[str, int] = {}
    missing: list[str] = []
    with snapshot() as alias, zipfile.ZipFile(path, "w") as archive:
        writer = package.Writer(archive)
        writer.add(package.SITE, [json.dumps(shown_settings(), indent=1).encode()])
        for label, model in tables().items():
            rows[label] = model._base_manager.using(alias).count()
            writer.add(f"{package.TABLES}{label}.jsonl", dump(model, alias))
        for name in file_names(alias):
            try:
                with default_storage.open(name) as file:
                    writer.add(package.FILES + name, package.pieces(file), packed=False)
            except FileNotFoundError:
                if strict:
                    raise _Vanished from None
                missing.append(name)
        about = {"rinklog": VERSION, "schema": schema(), "rows": rows, "missing": missing}
        writer.finish(about)


def schema() -> dict[str, str]:
    """The latest migration of each app whose tables are in the backup."""
    apps = {label.partition(".")[0] for label in tables()}
    leaves = MigrationLoader(connection).graph.leaf_nodes()
    return {app: name for app, name in sorted(leaves) if app in apps}


def shown_settings() -> dict[str, Any]:
    """The settings that a keeper may want to compare after a restore."""
    return {name: getattr(settings, name) for name in SHOWN_SETTINGS}
