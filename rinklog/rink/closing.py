"""Closing a season: its last day is set, and from then on only a keeper writes in it."""

import datetime as dt

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.facts import Refused
from rinklog.rink.models import Rink, Season
from rinklog.rink.seasons import start_next_season


def close_season(
    *,
    season: Season,
    ends_on: dt.date,
    now: dt.datetime,
    today: dt.date,
    next_starts_on: dt.date | None = None,
) -> Season | None:
    """Close a season, and open the next one from it in the same step when a day is given; returns the next one.

    The next season keeps the grid with its depths; rules, people, hoses, currency and water prices are the rink's and go
    on by themselves. A second call changes nothing more. Errors: Refused.
    """
    if not season.starts_on <= ends_on <= today:
        raise Refused(
            "ends_on", _("The last day is outside the season so far; allowed is its first day to today.")
        )
    if next_starts_on is not None and next_starts_on <= ends_on:
        raise Refused("next_starts_on", _("The next season must start after this one ended."))
    with transaction.atomic():
        list(Rink.objects.select_for_update().filter(id=season.rink_id))
        moved = Season.objects.filter(id=season.id, closed_at=None).update(ends_on=ends_on, closed_at=now)
        season.refresh_from_db(fields=["ends_on", "closed_at"])
        if next_starts_on is None:
            return None
        if not moved:
            later = Season.objects.filter(rink=season.rink, starts_on__gt=season.starts_on).first()
            if later is not None:
                return later
        return start_next_season(rink=season.rink, starts_on=next_starts_on, into=None, now=now)
