"""The season page and the CSV of its tables."""

from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from rinklog.crew.rights import Right
from rinklog.dates import written
from rinklog.reports.season import SeasonReport, season_report
from rinklog.reports.tables import TABLES, as_csv
from rinklog.rink.models import Season
from rinklog.rink.queries import seasons
from rinklog.web.access import At, found, on_rink
from rinklog.web.reports.bars import Bars, bars
from rinklog.work.kinds import KINDS


@on_rink(Right.SEE)
def season(request: HttpRequest, at: At, id: UUID | None = None) -> HttpResponse:
    """Water, labour hours and counts of a season, by kind, by week and by person."""
    shown = season_of(at, id)
    report = season_report(shown, at.zone)
    titles = {key: kind.title for key, kind in KINDS.items()}
    context = {
        "season": shown,
        "others": [other for other in seasons(at.rink) if other.id != shown.id],
        "report": report,
        "kinds": [(titles[key], sums) for key, sums in report.kinds.items()],
        "kind_titles": [(key, titles[key]) for key in report.kinds_used],
        "charts": charts(report) if report.weeks else [],
    }
    return render(request, "reports/season.html", context)


@on_rink(Right.SEE)
def season_csv(request: HttpRequest, at: At, id: UUID, table: str) -> HttpResponse:
    """One table of a season as CSV."""
    if table not in TABLES:
        raise Http404
    shown = season_of(at, id)
    text = as_csv(TABLES[table](season_report(shown, at.zone)))
    response = HttpResponse(text, content_type="text/csv; charset=utf-8")
    name = f"{at.rink.slug}-{shown.starts_on:%Y}-{table}.csv"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


def season_of(at: At, id: UUID | None) -> Season:
    """A season of this rink, today's when none is named, or 404."""
    return found(seasons(at.rink).filter(id=id).first()) if id else at.season


def charts(report: SeasonReport) -> list[Bars]:
    """Water and hours by week."""
    labels = [written(monday, "j M") for monday in report.weeks]
    weeks = report.weeks.values()
    return [
        bars(_("Water by week"), "water", [week.water_m3 for week in weeks], labels),
        bars(_("Labour by week"), "hours", [week.labour_min for week in weeks], labels),
    ]
