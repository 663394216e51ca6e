"""`manage.py backup FILE`: the whole site in one file, while it goes on."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand
from django.db import Error as DatabaseError

from rinklog.archive.backup import make_backup


class Command(BaseCommand):
    help = "Write database, photos and settings to one file with checksums; the secret key is not in it."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path, metavar="FILE")
        parser.add_argument("--data", metavar="DIR", help="the site's data folder (.data)")

    def handle(self, *args: Any, **options: Any) -> None:
        path: Path = options["file"]
        try:
            make_backup(path)
        except DatabaseError as error:
            raise SystemExit(
                f"rinklog: there is no site to back up here: {str(error).splitlines()[0]}"
            ) from error
        except OSError as error:
            raise SystemExit(f"rinklog: {path} cannot be written ({error.strerror}).") from error
        self.stdout.write(f"{path}: {path.stat().st_size} bytes. Keep a copy on another machine.")
