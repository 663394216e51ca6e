"""Building reviews off the road of whoever asked for one, and sharing them. Safe to call twice."""

import datetime as dt
from collections.abc import Callable
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _
from django.utils.translation import override

from rinklog.crew.models import Person
from rinklog.crew.tokens import hash_of, token_of
from rinklog.facts import Conflict, Refused
from rinklog.geometry.grid import Grid as Plan
from rinklog.reports import queries
from rinklog.reports.models import BuiltFile, BuiltReview, SeasonCold, SharedLink
from rinklog.reports.review.files import files_of
from rinklog.reports.review.span import Span
from rinklog.reports.review.stored import as_json, from_json
from rinklog.reports.review.told import BUILT_IN
from rinklog.reports.review.weather import Winter, winter_of
from rinklog.reports.review.whole import SeasonReview, season_review
from rinklog.rink.models import Season
from rinklog.rink.queries import seasons
from rinklog.weather import queries as weather
from rinklog.weather.hours import Hour

MOST_LINKS = 20


def ask_for_review(*, season: Season, now: dt.datetime) -> tuple[BuiltReview, bool]:
    """What is built of a season's review; and whether a task has to build a newer one."""
    wanted = queries.fingerprint(season, now)
    built = queries.built_review(season)
    if built is None:
        built, _made = BuiltReview.objects.get_or_create(season=season)
    if built.wanted != wanted:
        BuiltReview.objects.filter(id=built.id).update(wanted=wanted, asked_at=now, taken_at=None, done=0)
        built.refresh_from_db()
    return built, built.is_waiting and (built.taken_at is None or built.taken_at < now - queries.TAKEN_FOR)


def build_review(*, id: int, now: dt.datetime) -> bool:
    """Build what was asked for, with its files. False when another task is at it or nothing is wanted."""
    free = Q(taken_at=None) | Q(taken_at__lt=now - queries.TAKEN_FOR)
    if not BuiltReview.objects.filter(free, id=id).update(taken_at=now, done=0):
        return False
    built = queries.review_to_build(id)
    if built is None or not built.is_waiting:
        BuiltReview.objects.filter(id=id).update(taken_at=None)
        return False

    def progress(done: int, total: int) -> None:
        BuiltReview.objects.filter(id=id).update(done=done, total=total + 1)

    # Of the facts as they are now: what is asked for meanwhile is built next.
    fingerprint = queries.fingerprint(built.season, now)
    with override(BUILT_IN):
        review = gather(season=built.season, now=now, progress=progress)
    _keep(built, review, fingerprint, now)
    return True


def gather(
    *, season: Season, now: dt.datetime, progress: Callable[[int, int], object] = lambda done, total: None
) -> SeasonReview:
    """A season's review with the weather that is stored for it and for the seasons before."""
    earlier = [one for one in seasons(season.rink) if one.starts_on < season.starts_on]
    cold = {one.id: _cold(one, now) for one in earlier}
    return season_review(season, now=now, hours=_hours, cold=cold, progress=progress)


def _hours(span: Span) -> list[Hour]:
    return [known.hour for known in weather.known_hours(span.season.rink, *span.whole_days)]


def _cold(season: Season, now: dt.datetime) -> float | None:
    """Freezing degree days of an earlier season [°C·d], read again only when its weather has changed."""
    span = Span(season, ZoneInfo(season.rink.time_zone), now)
    mark = weather.fingerprint(season.rink, *span.whole_days)
    kept = SeasonCold.objects.filter(season=season).first()
    if kept is not None and kept.fingerprint == mark:
        return kept.freezing_degree_days
    winter: Winter = winter_of(_hours(span), span.zone)
    value = winter.freezing_degree_days if winter.known else None
    SeasonCold.objects.update_or_create(
        season=season, defaults={"fingerprint": mark, "freezing_degree_days": value}
    )
    return value


def _keep(built: BuiltReview, review: SeasonReview, fingerprint: str, now: dt.datetime) -> None:
    grid = built.season.grid
    plan = Plan(grid.length_m, grid.width_m, grid.corner_m, grid.rows, grid.columns)
    files = []
    for language in queries.languages_read(built.season.rink):
        with override(language):
            worded = files_of(from_json(as_json(review)), plan)
            files += [
                BuiltFile(review=built, name=name, readers=readers, language=language, content=content)
                for name, readers, content in worded
            ]
    with transaction.atomic():
        BuiltFile.objects.filter(review=built).delete()
        BuiltFile.objects.bulk_create(files)
        BuiltReview.objects.filter(id=built.id).update(
            fingerprint=fingerprint,
            content=as_json(review),
            made_at=now,
            taken_at=None,
            done=0,
        )
        # Asked for the very thing that was built; what somebody asked for meanwhile stays asked for.
        BuiltReview.objects.filter(id=built.id, wanted=built.wanted).update(wanted=fingerprint)


def share_season(
    *, id: UUID, season: Season, for_whom: str, with_money: bool, by: Person, now: dt.datetime
) -> SharedLink:
    """Make a read-only link to a season's review. The same id again is the same link."""
    for_whom = for_whom.strip()[:120]
    if not for_whom:
        raise Refused("for_whom", _("Say whom the link is for: this is empty."))
    with transaction.atomic():
        there = SharedLink.objects.select_for_update().filter(id=id).first()
        if there is not None:
            if (there.season_id, there.for_whom, there.with_money) != (season.id, for_whom, with_money):
                raise Conflict(there if there.season_id == season.id else None)
            return there
        if SharedLink.objects.filter(season=season, revoked_at=None).count() >= MOST_LINKS:
            raise Refused(
                "for_whom", _("There are %(n)d links already; revoke one first.") % {"n": MOST_LINKS}
            )
        return SharedLink.objects.create(
            id=id,
            season=season,
            for_whom=for_whom,
            with_money=with_money,
            token_hash=hash_of(token_of(id)),
            by=by,
            made_at=now,
        )


def revoke_link(*, link: SharedLink, now: dt.datetime) -> None:
    """Close a link for good."""
    SharedLink.objects.filter(id=link.id, revoked_at=None).update(revoked_at=now)
