"""`manage.py test`: listed here for `help`; the door runs it before Django is set up."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from rinklog.console.testing import run


class Command(BaseCommand):
    help = "Run the tests with pytest; without arguments all of them, browser and servers included."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("arguments", nargs="*", help="pytest's own arguments")

    def handle(self, *args: Any, **options: Any) -> None:
        raise SystemExit(run(options["arguments"]))
