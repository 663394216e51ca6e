"""Writing signs: made once a place, retired when a printed sheet is lost or stands elsewhere."""

import datetime as dt
import secrets
from collections.abc import Iterable
from typing import Any
from uuid import uuid4

from django.db import IntegrityError, transaction

from rinklog.rink.models import Grid, Rink, Sign

# Nothing that a frosted sheet could confuse: no 0 O, 1 I L, U V.
LETTERS = "23456789ABCDEFGHJKMNPQRSTWXYZ"
CODE_LENGTH = 6


def make_signs(*, rink: Rink, grid: Grid, kind: str, places: Iterable[str], by: Any, now: dt.datetime) -> int:
    """Make a sign for every place that has none, and anew for those of another grid. Returns how many were made."""
    on_grid = kind in (Sign.Kind.ZONE, Sign.Kind.POST)
    size = {"rows": grid.rows, "columns": grid.columns} if on_grid else {"rows": None, "columns": None}
    with transaction.atomic():
        Rink.objects.select_for_update(no_key=True).get(id=rink.id)
        standing = Sign.objects.filter(rink=rink, kind=kind, retired_at=None)
        standing.exclude(**size).update(retired_at=now)
        there = set(standing.values_list("place", flat=True))
        wanted = [place for place in dict.fromkeys(places) if place not in there]
        for place in wanted:
            _make(Sign(rink=rink, kind=kind, place=place, by=by, made_at=now, **size))
    return len(wanted)


def _make(sign: Sign) -> None:
    """Save with a code that no other sign of this site has."""
    for _try in range(20):
        sign.id, sign.code = uuid4(), "".join(secrets.choice(LETTERS) for _one in range(CODE_LENGTH))
        try:
            with transaction.atomic():
                sign.save(force_insert=True)
            return
        except IntegrityError:
            if not Sign.objects.filter(code=sign.code).exists():
                raise
    raise RuntimeError("no free code for a sign was found")


def retire_sign(*, sign: Sign, now: dt.datetime) -> None:
    """Let a sign open nothing any more. Its code is never given again."""
    Sign.objects.filter(id=sign.id, retired_at=None).update(retired_at=now)
    sign.refresh_from_db()


def hang_again(*, sign: Sign) -> bool:
    """Take the retirement back; False when another sign stands for its place by now."""
    others = Sign.objects.filter(rink=sign.rink_id, kind=sign.kind, place=sign.place, retired_at=None)
    with transaction.atomic():
        if others.exclude(id=sign.id).exists():
            return False
        Sign.objects.filter(id=sign.id).update(retired_at=None)
    return True
