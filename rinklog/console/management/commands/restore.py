"""`manage.py restore FILE`: a backup into an empty site."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.db import Error as DatabaseError

from rinklog.archive.package import Unusable
from rinklog.archive.restore import restore_backup


class Command(BaseCommand):
    help = (
        "Fill an empty site from a backup; a damaged, foreign or newer file is refused and nothing changes."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path, metavar="FILE")
        parser.add_argument("--data", metavar="DIR", help="the site's data folder (.data)")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            call_command("migrate", interactive=False, verbosity=0)
            rows = restore_backup(options["file"])
        except Unusable as error:
            raise SystemExit(f"rinklog: {error}") from error
        except DatabaseError as error:
            raise SystemExit(
                f"rinklog: the database does not answer: {str(error).splitlines()[0]}"
            ) from error
        self.stdout.write(
            f"Restored {sum(rows.values())} rows. Everybody signs in again with their password."
        )
