"""The season: its phases, how often building began again, and the next one."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Refused
from rinklog.rink import queries
from rinklog.rink.seasons import enter_phase, start_next_season, take_phase_back
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.setup.forms import NextSeasonForm, PhaseForm
from rinklog.web.setup.making import grid_page, start_of


@on_rink(Right.SET_OPEN)
def phases(request: HttpRequest, at: At) -> HttpResponse:
    """The phases of this season, and a form to enter the next."""
    season = at.season
    form = PhaseForm(posted(request), initial={"on": at.today})
    if request.method == "POST" and form.is_valid():
        try:
            enter_phase(season=season, by=at.person, now=at.now, today=at.today, **form.cleaned_data)
        except Refused as refused:
            form.add_error(refused.field, str(refused.sentence))
        else:
            return redirect("phases", slug=at.rink.slug)
    changes = queries.phases(season)
    context = {
        "season": season,
        "form": form,
        "changes": changes,
        "restarts": queries.restarts(changes),
        "phase": queries.phase_on(season, at.today),
        "seasons": queries.seasons(at.rink),
    }
    return render(request, "setup/phases.html", context, status=422 if request.method == "POST" else 200)


@on_rink(Right.SET_OPEN)
@require_POST
def phase_back(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take back a phase that was said by mistake."""
    take_phase_back(change=at.phase_change(id))
    return redirect("phases", slug=at.rink.slug)


@on_rink(Right.KEEP)
def next_season(request: HttpRequest, at: At) -> HttpResponse:
    """Start the next season on the same grid or on a new one."""
    season = at.season
    form = NextSeasonForm(posted(request), initial=start_of(season.grid) | {"starts_on": at.today})
    if request.method == "POST" and "look" not in request.POST and form.is_valid():
        data = form.cleaned_data
        try:
            start_next_season(
                rink=at.rink,
                starts_on=data["starts_on"],
                name=data["name"],
                into=form.divided() if data["grid"] == "new" else None,
                now=at.now,
            )
        except Refused as refused:
            form.add_error(refused.field, str(refused.sentence))
        else:
            return redirect("phases", slug=at.rink.slug)
    return grid_page(request, "setup/next_season.html", form, {"season": season})
