"""What was said of the last floods before they were made: invented, since advice is not made again for the past."""

import datetime as dt
import math
import random

from rinklog.advice.items import FrozenBy, Window
from rinklog.advice.models import Prediction
from rinklog.archive.demo.work import Writer
from rinklog.work.models import Entry, EntryEvent, Kind

SINCE_DAYS = 12
MISSED_BY_LOG = 0.12  # how far a prediction is off, as a logarithm
SLOWER = 1.08  # this rink freezes a little slower than the formulas say
BAND = (0.8, 1.0, 1.3)  # low, middle and high hours of freezing, as shares of the middle ones
CHANCES = (0.9, 0.95, 1.0)
HOUR = dt.timedelta(hours=1)
OPENS = dt.timedelta(hours=10)  # from the first evening hour to the next opening, at least


def predict(writer: Writer) -> None:
    """Give each flood of the last days that somebody saw freeze a prediction of the afternoon before."""
    chance = random.Random("predictions")
    since = writer.days.at(-SINCE_DAYS, 12)
    seen = EntryEvent.objects.filter(
        root__rink=writer.rink,
        root__kind=Kind.FLOOD,
        root__lineage__state=Entry.State.STANDING,
        root__started_at__gte=since,
        what=EntryEvent.What.FROZEN,
    ).select_related("root")
    Prediction.objects.bulk_create(prediction(one, chance) for one in seen.order_by("root__started_at"))


def prediction(seen: EntryEvent, chance: random.Random) -> Prediction:
    """What was said of one flood."""
    flood = seen.root
    poured = flood.ended_at or flood.started_at
    pour_h = (poured - flood.started_at) / HOUR
    froze_h = (seen.at - poured) / HOUR / SLOWER * math.exp(chance.gauss(0, MISSED_BY_LOG))
    low_h, middle_h, high_h = (round(pour_h + share * froze_h, 2) for share in BAND)
    start = flood.started_at
    coat_mm = 1000 * (flood.water_m3 or 0.0) / flood.area_m2
    window = Window(
        id=f"{start:%Y%m%dT%H}",
        starts_at=start,
        coat_mm=coat_mm,
        pour_h_per_mm=pour_h / coat_mm if coat_mm else 0.0,
        frozen_by=FrozenBy(*(start + h * HOUR for h in (low_h, middle_h, high_h))),
        chance=chance.choice(CHANCES),
        deadline=(start + OPENS).replace(minute=0, second=0, microsecond=0),
    )
    return Prediction(
        **{"root": flood, "rink_id": flood.rink_id, "window": window.to_json(), "coat_mm": coat_mm},
        **{"made_at": start - 4 * HOUR, "recorded_at": start, "began_at": start},
        **{"low_h": low_h, "middle_h": middle_h, "high_h": high_h},
        **{"chance": window.chance, "deadline_at": window.deadline},
    )
