"""Reading advice: stored rows, few questions. Nothing here writes, nothing here marches."""

import datetime as dt
from dataclasses import dataclass, field
from typing import Any
from zoneinfo import ZoneInfo

from rinklog.advice import outcomes
from rinklog.advice.items import Item, Window
from rinklog.advice.learning import Score, score
from rinklog.advice.marks import mark_of
from rinklog.advice.models import Advice, Prediction
from rinklog.advice.outcomes import Judged
from rinklog.advice.repair import Way
from rinklog.advice.windows import by_night
from rinklog.rink.models import Rink
from rinklog.work.models import Entry, Hazard

__all__ = [
    "Item",
    "Judged",
    "Tonight",
    "Window",
    "latest",
    "most_urgent",
    "prediction_of",
    "record",
    "stale",
    "tonight",
]
AHEAD = dt.timedelta(minutes=30)  # a window that began this long ago can still be taken


@dataclass(frozen=True)
class Tonight:
    """What the Tonight page shows of one advice."""

    made_at: dt.datetime
    items: list[Item]
    windows: list[Window]
    repairs: dict[str, list[Way]] = field(default_factory=dict)
    evening: dict[str, Any] | None = None
    told: dict[str, Any] = field(default_factory=dict)


def latest(rink: Rink, now: dt.datetime) -> Advice | None:
    """The advice that counts: the last one made."""
    return Advice.objects.filter(rink=rink, made_at__lte=now).order_by("-made_at").first()


def tonight(rink: Rink, now: dt.datetime) -> Tonight | None:
    """The stored advice for a page; None while none was made. One question."""
    row = latest(rink, now)
    if row is None:
        return None
    return Tonight(
        made_at=row.made_at,
        items=[Item.from_json(one) for one in row.items],
        windows=_nights(row, rink, now),
        repairs={id: [Way.from_json(way) for way in ways] for id, ways in row.repairs.items()},
        evening=row.evening,
        told=row.told,
    )


def windows(rink: Rink, now: dt.datetime | None = None) -> list[Window]:
    """The best window of each night to come, the best first; those already over are left out when `now` is given."""
    row = Advice.objects.filter(rink=rink).order_by("-made_at").first()
    return _nights(row, rink, now) if row else []


def window(rink: Rink, id: str, now: dt.datetime) -> Window | None:
    """One window of the latest advice by its id, any start that will do."""
    row = latest(rink, now)
    return next((Window.from_json(one) for one in row.windows if one["id"] == id), None) if row else None


def most_urgent(rink: Rink, now: dt.datetime) -> Item | None:
    """The first item of the latest advice; one question."""
    row = (
        Advice.objects.filter(rink=rink, made_at__lte=now)
        .order_by("-made_at")
        .values_list("items", flat=True)
    )
    items = row.first()
    return Item.from_json(items[0]) if items else None


def record(rink: Rink) -> tuple[Score, list[Judged]]:
    """How good the advice has been, and the floods it is told from, the latest first; four questions."""
    found = outcomes.judged(rink)
    return score([one.outcome for one in found]), found


def is_newer(rink: Rink, made_at: dt.datetime) -> bool:
    """Whether something was written down since advice was made that it may turn on; one question."""
    log = Entry.objects.filter(rink=rink, recorded_at__gt=made_at).order_by().values("recorded_at")
    found = Hazard.objects.filter(rink=rink, recorded_at__gt=made_at).order_by().values("recorded_at")
    return log.union(found, all=True).exists()


def prediction_of(entry: Entry) -> Prediction | None:
    """What was said of a flood before it was made."""
    return Prediction.objects.filter(root_id=entry.root_id).first()


def stale(now: dt.datetime) -> list[Rink]:
    """Rinks whose latest advice was made from other inputs than there are now."""
    return [
        rink
        for rink in Rink.objects.order_by("id")
        if (row := latest(rink, now)) is None or row.fingerprint != mark_of(rink, now)
    ]


def _nights(row: Advice, rink: Rink, now: dt.datetime | None) -> list[Window]:
    ranked = [Window.from_json(one) for one in row.windows]
    coming = [one for one in ranked if now is None or one.starts_at >= now - AHEAD]
    return list(by_night(coming, ZoneInfo(rink.time_zone)))
