"""`manage.py fill_demo`: an invented rink with an invented season, for `up --demo`."""

from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from rinklog.archive.demo.fill import fill_demo
from rinklog.archive.demo.people import PASSWORD


class Command(BaseCommand):
    help = "Fill an invented rink, its crew and a season under way; a second run adds nothing."

    def handle(self, *args: Any, **options: Any) -> None:
        filled = fill_demo(now=timezone.now())
        done = "filled" if filled.made else "already here"
        self.stdout.write(
            f"Demo: {filled.rink.name} in {filled.rink.place}, {done}. Everything in it is invented."
        )
        self.stdout.write(f"Sign in with the password “{PASSWORD}” as")
        for login, role in filled.crew:
            self.stdout.write(f"  {login:10} {role}")
        self.stdout.write("Everybody who reads this can sign in: keep no real work on this site.")
