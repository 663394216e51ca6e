"""Writing advice and predictions down: as they were said, never made again from what is known later."""

import datetime as dt
from bisect import bisect_right
from uuid import UUID

import numpy as np
from django.db import transaction

from rinklog.advice.assemble import content
from rinklog.advice.items import Window
from rinklog.advice.marks import mark_of
from rinklog.advice.models import Advice, Prediction
from rinklog.rink.models import Rink
from rinklog.work.models import Entry, Kind

KEPT = dt.timedelta(
    days=10
)  # advice older than this has no flood to wait for: phones send entries within days
FITS_WITHIN = dt.timedelta(hours=1)  # a flood begun this near to a window's start was that window
FRESH_FOR = dt.timedelta(hours=8)  # advice older than this at the flood's start is not what the crew went by
COAT_SLACK = 1.25  # a coat this much thicker than the thickest that was computed is not judged


def advise(*, rink: Rink, now: dt.datetime, known_at: dt.datetime | None = None) -> Advice:
    """Make advice for a rink and keep it; the latest row is returned as it is when nothing it rests on has changed.

    known_at: only the weather that was known then (for replays).
    """
    keep_predictions(rink=rink, now=now)
    mark = mark_of(rink, now, known_at)
    last = Advice.objects.filter(rink=rink, made_at__lte=now).order_by("-made_at").first()
    if last is not None and last.fingerprint == mark:
        return last
    found = content(rink, now, known_at)
    with transaction.atomic():
        row, _ = Advice.objects.update_or_create(
            rink=rink,
            made_at=now,
            defaults={
                "fingerprint": mark,
                "items": [item.to_json() for item in found.items],
                "windows": [window.to_json() for window in found.windows],
                "repairs": {id: [way.to_json() for way in ways] for id, ways in found.repairs.items()},
                "evening": found.evening,
                "told": found.told,
            },
        )
        Advice.objects.filter(rink=rink, made_at__lt=now - KEPT).delete()
    return row


def keep_predictions(*, rink: Rink, now: dt.datetime, root: UUID | None = None) -> int:
    """Give every flood that fell into an advised window the prediction that stood before it; how many were kept.

    Safe to repeat: a flood keeps the first prediction it was given. Advice made after a flood began never counts.
    root: of this flood alone, for whoever has just recorded it.
    """
    floods = Entry.objects.filter(
        rink=rink,
        kind=Kind.FLOOD,
        state=Entry.State.STANDING,
        started_at__gte=now - KEPT,
        started_at__lte=now + FITS_WITHIN,  # a form filled from advice may name the start that was advised
        root__prediction__isnull=True,
    )
    stood = Stood(rink, now)
    found = floods if root is None else floods.filter(root=root)
    made = [made for flood in found if (made := _prediction(flood, stood.before(flood.started_at), now))]
    Prediction.objects.bulk_create(made, ignore_conflicts=True)
    return len(made)


class Stood:
    """The advice that stood at any moment of the last days: times read at once, contents when asked for."""

    def __init__(self, rink: Rink, now: dt.datetime) -> None:
        kept = Advice.objects.filter(rink=rink, made_at__gte=now - KEPT - FRESH_FOR)
        self.made = list(kept.order_by("made_at").values_list("made_at", "id"))
        self.read: dict[int, Advice] = {}

    def before(self, at: dt.datetime) -> Advice | None:
        """The last advice made at or before a moment, unless it was no longer fresh then."""
        earlier = bisect_right(self.made, at, key=lambda one: one[0])
        made_at, id = self.made[earlier - 1] if earlier else (None, 0)
        if made_at is None or made_at < at - FRESH_FOR:
            return None
        if id not in self.read:
            self.read[id] = Advice.objects.get(id=id)
        return self.read[id]


def _prediction(flood: Entry, last: Advice | None, now: dt.datetime) -> Prediction | None:
    at = flood.started_at
    if last is None or not flood.water_m3 or not flood.area_m2:
        return None
    windows = [Window.from_json(one) for one in last.windows]
    near = min(windows, key=lambda one: abs(one.starts_at - at), default=None)
    if near is None or abs(near.starts_at - at) > FITS_WITHIN:
        return None
    coat_mm = 1000 * flood.water_m3 / flood.area_m2
    low, middle, high, chance = read_off(near, coat_mm)
    return Prediction(
        root_id=flood.root_id,
        rink_id=flood.rink_id,
        made_at=last.made_at,
        recorded_at=now,
        began_at=at,
        window=near.to_json(),
        coat_mm=coat_mm,
        low_h=low,
        middle_h=middle,
        high_h=high,
        chance=chance,
        deadline_at=near.deadline,
        factor=near.factor,
    )


def read_off(window: Window, coat_mm: float) -> tuple[float | None, float | None, float | None, float]:
    """Low, middle and high hours and the chance of a coat, read off the window's curve between the coats computed.

    Hours are None where they were not in sight, and for a coat far beyond those computed: it is kept and not judged.
    """
    coats = [row[0] for row in window.curve]
    if not coats or coat_mm > coats[-1] * COAT_SLACK:
        return None, None, None, 0.0

    def at(column: int) -> float | None:
        values = [row[column] for row in window.curve]
        upper = next((n for n, mm in enumerate(coats) if mm >= coat_mm), len(coats) - 1)
        if values[upper] is None or values[max(0, upper - 1)] is None:
            return None
        line = [0.0, *(value if value is not None else np.nan for value in values)]
        found = float(np.interp(coat_mm, [0.0, *coats], line))
        # Beyond the last coat the hours grow as they did for it.
        return found * max(1.0, coat_mm / coats[-1])

    chances = [row[4] for row in window.curve]
    return at(1), at(2), at(3), float(np.interp(coat_mm, coats, chances))
