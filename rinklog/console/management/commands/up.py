"""`manage.py up`: serve the site from one command until interrupted."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from rinklog.console import serving


class Command(BaseCommand):
    help = "Serve the site on the local network: web, worker and clock, until Ctrl-C."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--demo", action="store_true", help="first fill an invented rink and season")
        parser.add_argument("--port", type=int, default=8000, help="plain HTTP; HTTPS is 443 above it (8000)")
        parser.add_argument("--data", metavar="DIR", help="database, photos, queue and keys (.data)")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            serving.serve(port=options["port"], demo=options["demo"], say=self._say)
        except serving.CannotServeError as error:
            raise SystemExit(f"rinklog: {error}") from error

    def _say(self, text: str) -> None:
        self.stdout.write(text)
        self.stdout.flush()
