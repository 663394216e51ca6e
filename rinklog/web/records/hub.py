"""The page from which every record is reached."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from rinklog.crew.rights import Right
from rinklog.records import queries
from rinklog.web.access import At, on_rink


@on_rink(Right.SEE)
def hub(request: HttpRequest, at: At) -> HttpResponse:
    """What there is to write down and to look up beside the work itself."""
    return render(request, "records/hub.html", {"opening": queries.current_opening(at.rink, at.now)})
