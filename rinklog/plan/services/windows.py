"""A flood window becomes a shift: from its best hour, with the window kept as it was."""

import datetime as dt
from typing import Any
from uuid import UUID

from rinklog.advice.items import Window
from rinklog.crew.models import Person
from rinklog.plan.models import Shift
from rinklog.plan.services.shifts import ShiftContent, make_shift
from rinklog.rink.models import Rink

USUAL_PEOPLE, USUAL_MINUTES = 2, 120
"""Two a night: Konnerud, Norway 2014; a flood takes 2 to 4 h: Glabar Park, Ottawa 2017-22."""


def snapshot(window: Window) -> dict[str, Any]:
    """What a shift keeps of its window."""
    kept = window.to_json()
    return {name: kept[name] for name in ("id", "starts_at", "chance", "coat_mm", "frozen_by", "spoilers")}


def shift_from_window(
    *, id: UUID, rink: Rink, window: Window, like: Shift | None, by: Person, now: dt.datetime
) -> Shift:
    """Make a shift of a window in one go, for as many people and with the skills of the last flood shift."""
    content = ShiftContent(
        work=Shift.Work.FLOOD,
        starts_at=window.starts_at,
        minutes=like.minutes if like else USUAL_MINUTES,
        people_needed=like.people_needed if like else USUAL_PEOPLE,
        skills=tuple(like.skills) if like else (),
        everybody=tuple(like.everybody) if like else (),
        window=snapshot(window),
    )
    return make_shift(id=id, rink=rink, content=content, by=by, now=now)
