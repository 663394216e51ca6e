"""Writing seasons and their phases: the next winter, and what the rink is in the middle of."""

import datetime as dt
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext_lazy as _

from rinklog.facts import Refused
from rinklog.rink.models import PhaseChange, Rink, Season
from rinklog.rink.queries import seasons
from rinklog.rink.services import Divided, measure_and_divide, season_name, start_season


def start_next_season(
    *, rink: Rink, starts_on: dt.date, into: Divided | None, now: dt.datetime, name: str = ""
) -> Season:
    """Begin the next season on the same grid, or on a new one; what is recorded keeps the old.

    A season that is still open ends the day before. The same name again is the same season. Refused when it does not
    start after the latest one, or before that one ended.
    """
    name = name.strip() or season_name(starts_on)
    with transaction.atomic():
        list(Rink.objects.select_for_update().filter(id=rink.id))
        same = Season.objects.filter(rink=rink, name=name).first()
        if same is not None:
            if same.starts_on == starts_on:
                return same
            raise Refused("name", _("There is a season of that name already; choose another name."))
        latest = seasons(rink).first()
        assert latest is not None, "a rink is made with its first season"
        end_before(latest, starts_on)
        grid = measure_and_divide(rink=rink, into=into, now=now) if into else latest.grid
        return start_season(rink=rink, grid=grid, name=name, starts_on=starts_on)


def end_before(latest: Season, starts_on: dt.date) -> None:
    """Close the latest season the day before the next one starts."""
    if starts_on <= latest.starts_on:
        raise Refused("starts_on", _("The next season must start after the present one started."))
    if latest.ends_on is None or latest.ends_on >= starts_on:
        latest.ends_on = starts_on - dt.timedelta(days=1)
        latest.save(update_fields=["ends_on"])


def enter_phase(
    *,
    id: UUID,
    season: Season,
    phase: str,
    on: dt.date,
    today: dt.date,
    by: Any,
    now: dt.datetime,
    note: str = "",
) -> PhaseChange:
    """Say that the season entered a phase on a day; building again is a restart. The same id again is the same change.

    Refused outside the season and for a day to come.
    """
    last = min(today, season.ends_on or today)
    if not season.starts_on <= on <= last:
        raise Refused("on", _("That day is outside the season so far."))
    change, _made = PhaseChange.objects.get_or_create(
        id=id,
        defaults={"season": season, "phase": phase, "on": on, "by": by, "recorded_at": now, "note": note},
    )
    return change


def take_phase_back(*, change: PhaseChange) -> None:
    """Remove a phase change that was said by mistake."""
    PhaseChange.objects.filter(id=change.id).delete()
