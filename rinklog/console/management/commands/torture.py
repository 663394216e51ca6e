"""`manage.py torture`: listed here for `help`; the door runs it before Django is set up."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from rinklog.console.torture import run


class Command(BaseCommand):
    help = "Write a thousand entries from five phones over a terrible connection, and count what arrives."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "arguments", nargs="*", help="--entries, --photos, --phones, --kills, --seed, --json"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        raise SystemExit(run(options["arguments"]))
