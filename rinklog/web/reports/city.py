"""The file for the city and the insurer: for those who may read accident reports, on a page to print and as CSV."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from rinklog.crew.rights import Right
from rinklog.reports.city import CityFile
from rinklog.reports.review.span import Span
from rinklog.reports.review.tables import Table
from rinklog.web.access import At, on_rink
from rinklog.web.reports.review import csv_answer
from rinklog.web.reports.showing import shown
from rinklog.web.reports.views import season_of


def tables_of(at: At, id: UUID | None) -> list[Table]:
    """The season's file."""
    return CityFile(Span(season_of(at, id), at.zone, at.now)).tables()


@on_rink(Right.SEE_ACCIDENTS)
def city(request: HttpRequest, at: At, id: UUID | None = None) -> HttpResponse:
    """Everything a city or an insurer asks for about one season."""
    context = {"season": season_of(at, id), "tables": [shown(table) for table in tables_of(at, id)]}
    return render(request, "reports/city.html", context)


@on_rink(Right.SEE_ACCIDENTS)
def city_csv(request: HttpRequest, at: At, id: UUID, table: str) -> HttpResponse:
    """One table of the file as CSV."""
    return csv_answer(season_of(at, id), tables_of(at, id), table)
