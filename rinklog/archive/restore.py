"""A backup into an empty site; whatever is wrong with it is found before anything is changed."""

import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.core.files.storage import default_storage
from django.db import DEFAULT_DB_ALIAS, Error, connections, transaction
from django.db.migrations.loader import MigrationLoader
from django.utils.translation import gettext as _

from rinklog.archive import package
from rinklog.archive.package import Unusable
from rinklog.archive.tables import BadTable, go_on_counting, is_empty, load, tables
from rinklog.upkeep.models import Claim


def restore_backup(path: Path) -> dict[str, int]:
    """Fill the empty site from a backup; returns the rows of each table. Errors: Unusable, and nothing is changed."""
    if not is_empty():
        raise Unusable(
            _("This site is not empty; a backup goes into an empty site only. Nothing was changed.")
        )
    with checked(path) as (archive, manifest), undoing_files() as placed:
        try:
            with transaction.atomic():
                rows = {label: load_table(archive, label, model) for label, model in tables().items()}
                connections[DEFAULT_DB_ALIAS].check_constraints()
                if rows != {label: manifest["rows"].get(label, 0) for label in rows}:
                    raise Unusable(
                        _("The backup has other rows than its manifest says. Nothing was changed.")
                    )
                go_on_counting()
                # The way in for a first keeper closes: the keepers are back.
                Claim.objects.filter(used_at=None).delete()
                place_files(archive, placed)
        except OSError as error:
            raise Unusable(
                _("The photos cannot be stored (%(reason)s). Nothing was changed.")
                % {"reason": error.strerror}
            ) from error
        except (BadTable, Error) as error:
            raise Unusable(
                _("The backup does not fit this version: %(reason)s. Nothing was changed.")
                % {"reason": str(error).splitlines()[0][:200]}
            ) from error
        placed.clear()
    return rows


@contextmanager
def checked(path: Path) -> Iterator[tuple[zipfile.ZipFile, dict[str, Any]]]:
    """A backup that is whole, ours and not newer than this version. Errors: Unusable."""
    try:
        package.check_seal(path)
        archive = zipfile.ZipFile(path)
    except FileNotFoundError:
        raise Unusable(_("There is no file “%(path)s”.") % {"path": path}) from None
    except OSError as error:
        raise Unusable(
            _("“%(path)s” cannot be read (%(reason)s).") % {"path": path, "reason": error.strerror}
        ) from None
    except (zipfile.BadZipFile, ValueError):
        raise Unusable(_("This is no backup of rinklog: it cannot be unpacked.")) from None
    with archive:
        manifest = package.read_manifest(archive)
        check_schema(manifest)
        package.check_parts(archive, manifest)
        yield archive, manifest


def check_schema(manifest: dict[str, Any]) -> None:
    """Know every migration that the backup's tables had, and every table. Errors: Unusable."""
    known = set(MigrationLoader(None).disk_migrations)
    schema, rows = manifest.get("schema"), manifest.get("rows")
    if not isinstance(schema, dict) or not isinstance(rows, dict):
        raise Unusable(_("The backup's manifest is incomplete."))
    if set(schema.items()) - known or set(rows) - set(tables()):
        raise Unusable(
            _("The backup was made by a newer rinklog (%(version)s); update this one first.")
            % {"version": str(manifest.get("rinklog", "?"))[:40]}
        )


def load_table(archive: zipfile.ZipFile, label: str, model: Any) -> int:
    """Load one table; one that the backup's version did not have yet stays empty."""
    name = f"{package.TABLES}{label}.jsonl"
    if name not in archive.namelist():
        return 0
    with archive.open(name) as lines:
        return load(model, lines)


def place_files(archive: zipfile.ZipFile, placed: list[str]) -> None:
    """Put the stored files where their rows say."""
    for part in archive.namelist():
        if not part.startswith(package.FILES):
            continue
        name = part.removeprefix(package.FILES)
        default_storage.delete(name)  # left by a site that is gone: no row of this one names it
        with archive.open(part) as source:
            placed.append(default_storage.save(name, source))
        if placed[-1] != name:
            raise Unusable(_("“%(name)s” cannot be stored under its name.") % {"name": name})


@contextmanager
def undoing_files() -> Iterator[list[str]]:
    """Remove the files that were placed when what follows fails."""
    placed: list[str] = []
    try:
        yield placed
    finally:
        for name in placed:
            default_storage.delete(name)
