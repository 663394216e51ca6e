"""The season page."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from rinklog.crew.rights import Right
from rinklog.web.access import At, on_rink
from rinklog.work import queries


@on_rink(Right.SEE)
def season(request: HttpRequest, at: At) -> HttpResponse:
    """Water, labour hours and counts of the season."""
    return render(
        request, "reports/season.html", {"season": at.season, "sums": queries.season_sums(at.season)}
    )
