"""Reading built reviews, and telling whether one still holds. Nothing here writes."""

import datetime as dt
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import Count, Max, QuerySet

from rinklog.clock import local_day
from rinklog.crew.models import Membership
from rinklog.crew.tokens import hash_of
from rinklog.facts import fingerprint_of
from rinklog.money.models import Payment, Purse, WaterPrice
from rinklog.records.models import AccidentReport, Opening
from rinklog.reports.models import BuiltFile, BuiltReview, SharedLink
from rinklog.reports.review.span import Span
from rinklog.reports.review.told import BUILT_IN
from rinklog.rink.models import Rink, Season, Zone
from rinklog.version import VERSION
from rinklog.weather import queries as weather
from rinklog.work.models import Entry, EntryEvent, Hazard, HazardEvent

TAKEN_FOR = dt.timedelta(minutes=6)  # longer than a task may take
ROUND = 5  # raise it when the same facts give another review


def fingerprint(season: Season, now: dt.datetime) -> str:
    """A text that differs whenever a review of the season would: a late entry, an undo, a new day, other weather."""
    rink, zone = season.rink, ZoneInfo(season.rink.time_zone)
    entries = Entry.objects.filter(rink=rink).order_by("season_id", "state").values_list("season_id", "state")
    said: dict[str, Any] = {
        "version": f"{VERSION} {ROUND}",
        "until": min(season.ends_on or dt.date.max, local_day(now, zone)).isoformat(),
        "season": [season.name, season.starts_on.isoformat(), str(season.ends_on), str(season.grid_id)],
        "rink": [rink.name, rink.time_zone],
        "entries": [list(row) for row in entries.annotate(n=Count("id"), last=Max("recorded_at"))],
        "events": _last(EntryEvent.objects.filter(root__rink=rink), "recorded_at", "undone_at"),
        "hazards": _last(Hazard.objects.filter(rink=rink), "recorded_at"),
        "hazard_events": _last(HazardEvent.objects.filter(hazard__rink=rink), "recorded_at", "undone_at"),
        "openings": _last(Opening.objects.filter(rink=rink), "recorded_at"),
        "accidents": _last(AccidentReport.objects.filter(rink=rink), "recorded_at"),
        "suns": list(Zone.objects.filter(grid=season.grid).order_by("id").values_list("sun", flat=True)),
        "payments": _last(Payment.objects.filter(rink=rink), "recorded_at", "taken_back_at"),
        "prices": _last(WaterPrice.objects.filter(rink=rink), "recorded_at"),
        "purse": list(Purse.objects.filter(rink=rink).values_list("code", flat=True)),
        "crew": [list(row) for row in _crew(rink)],
        "languages": languages_read(rink),
        "seasons": [str(id) for id in Season.objects.filter(rink=rink).values_list("id", flat=True)],
        "weather": weather.fingerprint(rink, *Span(season, zone, now).whole_days),
    }
    return fingerprint_of(said)


def _crew(rink: Rink) -> "QuerySet[Membership, tuple[Any, ...]]":
    return (
        Membership.objects.filter(rink=rink)
        .order_by("person_id")
        .values_list("person_id", "person__name", "role")
    )


def _last(rows: "QuerySet[Any]", *moments: str) -> list[Any]:
    return list(rows.order_by().aggregate(n=Count("pk"), **{name: Max(name) for name in moments}).values())


def built_review(season: Season) -> BuiltReview | None:
    """What was last built for a season, if anything was asked for."""
    return BuiltReview.objects.filter(season=season).first()


def review_to_build(id: int) -> BuiltReview | None:
    """A built review with what building it needs."""
    return BuiltReview.objects.select_related("season__rink", "season__grid").filter(id=id).first()


def standing_still(now: dt.datetime) -> list[BuiltReview]:
    """Reviews that were asked for and that no task is at."""
    waiting = [row for row in BuiltReview.objects.all() if row.is_waiting]
    return [row for row in waiting if row.taken_at is None or row.taken_at < now - TAKEN_FOR]


def built_file(built: BuiltReview, name: str, readers: str, language: str) -> bytes | None:
    """One file of a built review, in a language if the crew reads it, else in English."""
    rows = BuiltFile.objects.filter(review=built, name=name, readers=readers)
    row = rows.filter(language=language).first() or rows.filter(language=BUILT_IN).first()
    return bytes(row.content) if row else None


def languages_read(rink: Rink) -> list[str]:
    """The languages that files are built in: English, and those the crew reads."""
    known = dict(settings.LANGUAGES)
    read = Membership.objects.filter(rink=rink, left_at=None).values_list("person__language", flat=True)
    return sorted({BUILT_IN, *(code for code in read if code in known)})


def shared_links(season: Season) -> QuerySet[SharedLink]:
    """Every link to a season's review, the latest first."""
    return SharedLink.objects.filter(season=season).select_related("by")


def shared_link(rink: Rink, id: UUID) -> SharedLink | None:
    """One link of a rink."""
    return SharedLink.objects.filter(season__rink=rink, id=id).first()


def link_of_token(token: str) -> SharedLink | None:
    """The link that a token opens, unless it was revoked."""
    return (
        SharedLink.objects.select_related("season__rink", "season__grid")
        .filter(token_hash=hash_of(token), revoked_at=None)
        .first()
    )
