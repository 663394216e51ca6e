"""The review of a season: pictures first, a table beside each, files of the same numbers."""

import datetime as dt
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from rinklog.crew.rights import Right
from rinklog.dates import written
from rinklog.reports.models import BuiltReview
from rinklog.reports.queries import built_file
from rinklog.reports.review.stored import for_readers, from_json
from rinklog.reports.review.tables import CREW, EVERYBODY, TREASURER, Table
from rinklog.reports.services import ask_for_review
from rinklog.reports.tables import as_csv
from rinklog.reports.tasks import build_soon
from rinklog.rink.models import Season
from rinklog.rink.queries import seasons, zones
from rinklog.web.access import At, on_rink
from rinklog.web.reports.bars import Bars, bars
from rinklog.web.reports.pictures.held import held_pictures
from rinklog.web.reports.pictures.maps import maps
from rinklog.web.reports.pictures.strip import strip
from rinklog.web.reports.showing import shown
from rinklog.web.reports.views import season_of

FILES = {
    "review.pdf": "application/pdf",
    "review.xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


@on_rink(Right.SEE)
def review(request: HttpRequest, at: At, id: UUID | None = None) -> HttpResponse:
    """A season's review; while it is built, how far it has come."""
    season = season_of(at, id)
    built = current(season, at)
    context = {
        "season": season,
        "built": built,
        "others": [other for other in seasons(at.rink) if other.id != season.id],
        "readers": readers_of(at),
    }
    if built.content:
        context |= pictures(season, for_readers(from_json(built.content), readers_of(at)))
    return render(request, "reports/review.html", context)


@on_rink(Right.SEE)
def review_progress(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """How far the building has come: the page asks until it is there."""
    built = current(season_of(at, id), at)
    response = render(request, "reports/_review_progress.html", {"built": built, "season": built.season})
    if not built.is_waiting:
        response.headers["HX-Refresh"] = "true"
    return response


@on_rink(Right.SEE)
def review_csv(request: HttpRequest, at: At, id: UUID, table: str) -> HttpResponse:
    """One table of a review as CSV."""
    season = season_of(at, id)
    return csv_answer(season, for_built(current(season, at), readers_of(at)), table)


@on_rink(Right.SEE)
def review_file(request: HttpRequest, at: At, id: UUID, name: str) -> HttpResponse:
    """The PDF or the spreadsheet of a review."""
    season = season_of(at, id)
    return file_answer(season, current(season, at), name, readers_of(at))


def current(season: Season, at: At) -> BuiltReview:
    """What is built of a season's review; a newer one is asked for when the facts have changed."""
    built, due = ask_for_review(season=season, now=at.now)
    if due:
        build_soon(built.id)
        built.refresh_from_db()
    return built


def readers_of(at: At) -> str:
    """Which tables this person may see."""
    if at.may(Right.SEE_MONEY):
        return TREASURER
    return CREW if at.may(Right.LOG) else EVERYBODY


def for_built(built: BuiltReview, readers: str) -> list[Table]:
    """The tables of what is built, for these readers; 404 while nothing is."""
    if not built.content:
        raise Http404
    return for_readers(from_json(built.content), readers)


def csv_answer(season: Season, tables: list[Table], key: str) -> HttpResponse:
    """One table as RFC 4180 text, or 404."""
    table = next((one for one in tables if one.key == key), None)
    if table is None:
        raise Http404
    heads: list[object] = [column.key for column in table.shape.columns]
    rows: list[list[object]] = [
        [column.text(value) for column, value in zip(table.shape.columns, row, strict=True)]
        for row in table.rows
    ]
    response = HttpResponse(as_csv([heads, *rows]), content_type="text/csv; charset=utf-8")
    return named(response, season, f"{key}.csv")


def file_answer(season: Season, built: BuiltReview, name: str, readers: str) -> HttpResponse:
    """One built file, or 404."""
    content = built_file(built, name, readers, get_language() or "") if name in FILES else None
    if content is None:
        raise Http404
    return named(HttpResponse(content, content_type=FILES[name]), season, name)


def named(response: HttpResponse, season: Season, name: str) -> HttpResponse:
    """Give a file the name it is saved under."""
    file_name = f"{season.rink.slug}-{season.starts_on:%Y}-{name}"
    response.headers["Content-Disposition"] = f'attachment; filename="{file_name}"'
    return response


def pictures(season: Season, tables: list[Table]) -> dict[str, Any]:
    """The pictures and the tables of a review, in the order they are read."""
    by_key = {table.key: table for table in tables}
    found: dict[str, Any] = {"tables": {key.replace("-", "_"): shown(table) for key, table in by_key.items()}}
    found["strip"] = strip(by_key["days"])
    found["charts"] = charts(by_key["weeks"])
    found["held"] = held_pictures(by_key["held"], by_key["held-curves"])
    compared = shown(by_key["held-compared"]).rows
    found["verdicts"] = [[text for text, _number in row[:4]] for row in compared]
    found["maps"] = maps(by_key["zones"], season.grid, zones(season.grid))
    return found


def charts(weeks: Table) -> list[Bars]:
    """Water and hours by week."""
    rows = weeks.dicts()
    if not rows:
        return []
    labels = [written(dt.date.fromisoformat(str(row["week_from"])), "j M") for row in rows]
    water = [float(row["water_m3"] or 0) for row in rows]
    minutes = [60 * float(row["labour_h"] or 0) for row in rows]
    return [
        bars(_("Water by week"), "meter", water, labels),
        bars(_("Labour by week"), "hours", minutes, labels),
    ]
