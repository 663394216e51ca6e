"""Reading the estimate: stored rows, one or two questions. Nothing here writes, nothing here marches."""

import datetime as dt
import hashlib
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Count, Max

from rinklog.clock import local_day
from rinklog.ice.bands import Band
from rinklog.ice.models import HoleQuestion, Outlook
from rinklog.ice.plain import estimate_from_json, hours_from_json
from rinklog.ice.summing import Estimate, OutlookHour, ZoneIce
from rinklog.rink.models import PhaseChange, Rink, Zone
from rinklog.rink.queries import season_on
from rinklog.weather import queries as weather
from rinklog.work.models import Entry, EntryEvent

__all__ = [
    "Band",
    "Estimate",
    "OutlookHour",
    "ZoneIce",
    "hole_question",
    "is_stale",
    "latest_estimate",
    "mark_of",
    "open_questions",
    "outlook_hours",
    "stale",
    "stored",
]
AHEAD = dt.timedelta(days=10)


def stored(rink: Rink) -> Outlook | None:
    """The stored row without its ensemble: what is missing, how far a long replay has come."""
    return Outlook.objects.filter(rink=rink).defer("members").first()


def latest_estimate(rink: Rink) -> Estimate | None:
    """The stored estimate; None while there is none (`stored` says what is missing)."""
    row = Outlook.objects.filter(rink=rink).values_list("estimate", flat=True).first()
    return estimate_from_json(row) if row else None


def outlook_hours(rink: Rink) -> list[OutlookHour]:
    """The next hours as stored, ten days at most; empty while there is no estimate."""
    row = Outlook.objects.filter(rink=rink).values_list("hours", flat=True).first()
    return hours_from_json(row) if row else []


def open_questions(rink: Rink) -> list[HoleQuestion]:
    """Implausible drill holes that wait for an answer, the latest first."""
    found = HoleQuestion.objects.filter(rink=rink, answer="", entry__state=Entry.State.STANDING)
    return list(
        found.select_related("entry__by")
        .prefetch_related("entry__zones__zone")
        .order_by("-entry__started_at")
    )


def hole_question(rink: Rink, entry_id: UUID) -> HoleQuestion | None:
    """What was asked about one hole, answered or not."""
    return (
        HoleQuestion.objects.filter(rink=rink, entry=entry_id)
        .select_related("entry__by", "answered_by")
        .prefetch_related("entry__zones__zone")
        .first()
    )


def mark_of(rink: Rink, now: dt.datetime) -> str:
    """A text that differs whenever the inputs of the estimate do: counts and latest times, seven small questions."""
    season = season_on(rink, local_day(now, ZoneInfo(rink.time_zone)))
    if season is None:
        return ""
    entries = (
        Entry.objects.filter(season=season).values_list("state").annotate(Count("id"), Max("recorded_at"))
    )
    events = EntryEvent.objects.filter(root__season=season).aggregate(
        Count("id"), Count("undone_at"), Max("recorded_at"), Max("undone_at")
    )
    answers = HoleQuestion.objects.filter(rink=rink).aggregate(Count("answered_at"), Max("answered_at"))
    ground = (
        Zone.objects.filter(grid=season.grid_id).order_by("id").values_list("id", "area_m2", "depth_m", "sun")
    )
    changes = PhaseChange.objects.filter(season=season).order_by("id").values_list("id", "phase", "on")
    starts = dt.datetime.combine(season.starts_on, dt.time(), dt.UTC)
    hour = now.replace(minute=0, second=0, microsecond=0)
    sky = weather.fingerprint(rink, starts, hour + AHEAD)
    said = (
        *(season.id, season.starts_on, season.ends_on, rink.latitude, rink.longitude, rink.time_zone),
        *(sorted(entries), events, answers, list(ground), list(changes), sky),
    )
    return hashlib.sha256(repr(said).encode()).hexdigest()


def stale(now: dt.datetime) -> list[Rink]:
    """Rinks whose stored estimate was made from other inputs than there are now, or whose replay is not done."""
    rows = {row.rink_id: row for row in Outlook.objects.defer("members", "estimate", "hours")}
    found = []
    for rink in Rink.objects.order_by("id"):
        if _lags(rows.get(rink.id), rink, now):
            found.append(rink)
    return found


def is_stale(rink: Rink, now: dt.datetime) -> bool:
    """Whether this rink is one of `stale`, without a look at the others."""
    return _lags(stored(rink), rink, now)


def _lags(row: Outlook | None, rink: Rink, now: dt.datetime) -> bool:
    return row is None or row.reached_at is not None or row.mark != mark_of(rink, now)
