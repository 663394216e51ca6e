"""Doors that slow guessing down: how many failed tries each stands before it stays shut for a while.

A try is counted before it is judged, so that many at once do not slip through; a good one is taken off again. Tries
at a shut door are not counted: it opens again although somebody keeps knocking.
"""

import datetime as dt
from dataclasses import dataclass

from django.db import transaction

from rinklog.crew.models import Attempt
from rinklog.crew.tokens import hash_of

FORGET_AFTER = dt.timedelta(days=1)


@dataclass(frozen=True)
class Door:
    """A way in: at most `tries` failed ones by the same one within `minutes`."""

    name: str
    tries: int
    minutes: int

    @property
    def window(self) -> dt.timedelta:
        """How far back tries count."""
        return dt.timedelta(minutes=self.minutes)


# A login is slowed per address only: nobody can lock somebody else out from elsewhere.
SIGN_IN = Door("sign-in", 6, 15)
ADDRESS = Door("address", 40, 15)
CODE = Door("code", 10, 15)
LINK = Door("link", 20, 15)
PASSWORD = Door("password", 6, 15)


class TooManyTries(Exception):
    """This door is shut for the moment; `minutes` until it opens again."""

    def __init__(self, minutes: int) -> None:
        super().__init__(f"{minutes} min")
        self.minutes = minutes


def knock(*, door: Door, who: str, now: dt.datetime) -> Attempt:
    """Count a try by `who`; raises TooManyTries when the door is shut. Take it off with `came_in` when it was good."""
    who_hash = hash_of(f"{door.name} {who}")
    with transaction.atomic():
        Attempt.objects.filter(at__lt=now - FORGET_AFTER).delete()
        attempt = Attempt.objects.create(door=door.name, who_hash=who_hash, at=now)
        tries = Attempt.objects.filter(door=door.name, who_hash=who_hash, at__gt=now - door.window)
        shut = tries.count() > door.tries
        if shut:
            attempt.delete()
            last = tries.order_by("-at").values_list("at", flat=True)[door.tries - 1]
    if shut:
        left = last + door.window - now
        raise TooManyTries(max(1, -(-int(left.total_seconds()) // 60)))
    return attempt


def came_in(*attempts: Attempt) -> None:
    """Take good tries off the count."""
    Attempt.objects.filter(id__in=[attempt.id for attempt in attempts]).delete()
