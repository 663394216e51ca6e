"""Imports and backups, off the road of whoever asked for them."""

from uuid import UUID

from celery import shared_task
from django.utils import timezone

from rinklog.archive import kept, queries, services
from rinklog.archive.models import Import
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep.queue import soon


@shared_task(name="archive.check_import", **AGAIN)
def check_import(import_id: str) -> None:
    """Check one uploaded file."""
    services.check_import(id=UUID(import_id), now=timezone.now())


@shared_task(name="archive.apply_import", **AGAIN)
def apply_import(import_id: str) -> None:
    """Write one checked file to the log."""
    services.apply_import(id=UUID(import_id), now=timezone.now())


@shared_task(name="archive.sweep_imports", **AGAIN)
def sweep_imports() -> None:
    """Queue again what stands still, and delete files that are no longer needed."""
    for one in queries.standing_still(timezone.now()):
        go_on_soon(one)
    for one in queries.to_forget(timezone.now()):
        services.forget_file(one=one)


@shared_task(name="archive.nightly_backup", **AGAIN)
def nightly_backup() -> None:
    """Make the backup of the night, or one that somebody asked for."""
    if kept.is_due(timezone.now()):
        kept.keep_one(timezone.now())


def go_on_soon(one: Import) -> None:
    """Queue what comes next for an import, once what is being written is committed."""
    soon(check_import if one.state == Import.State.CHECKING else apply_import, one.id)


def back_up_soon() -> None:
    """Ask for a backup now."""
    kept.ask()
    soon(nightly_backup)
