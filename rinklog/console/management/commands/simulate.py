"""`manage.py simulate`: listed here for `help`; the door runs it before Django is set up."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from rinklog.console.door import pure


class Command(BaseCommand):
    help = "March one column of rink through a weather file."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("arguments", nargs="*", help="see `simulate --help`")

    def handle(self, *args: Any, **options: Any) -> None:
        raise SystemExit(pure("simulate", options["arguments"]))
