"""`manage.py bench`: listed here for `help`; the door runs it before Django is set up."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from rinklog.console.bench import run


class Command(BaseCommand):
    help = "Compare us with the plainest other way of doing the same, both in one run."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("arguments", nargs="*", help="names of comparisons; none means all")

    def handle(self, *args: Any, **options: Any) -> None:
        raise SystemExit(run(options["arguments"]))
