"""Closing the season, and opening the next from it in the same step."""

import datetime as dt

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from rinklog.crew.rights import Right
from rinklog.facts import Refused
from rinklog.rink.closing import close_season
from rinklog.site.models import SiteTask
from rinklog.site.queries.lists import undone
from rinklog.site.services.lists import carry_over
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.setup.forms import CloseForm
from rinklog.work.queries import open_hazards


@on_rink(Right.KEEP)
def close(request: HttpRequest, at: At) -> HttpResponse:
    """What is still open, and the form that closes the season."""
    season = at.season
    usual = {
        "ends_on": min(at.today, season.ends_on or at.today),
        "next_starts_on": year_later(season.starts_on),
    }
    form = CloseForm(posted(request), initial=usual)
    if request.method == "POST" and form.is_valid():
        try:
            opened = close_season(season=season, now=at.now, today=at.today, **form.cleaned_data)
            if opened:
                carry_over(season=opened, by=at.person, now=at.now)
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        else:
            said = {"name": season.name, "next": opened.name if opened else ""}
            messages.success(
                request,
                _("Season %(name)s is closed; season %(next)s is open from its first day.") % said
                if opened
                else _("Season %(name)s is closed.") % said,
            )
            return redirect("phases", slug=at.rink.slug)
    context = {
        "form": form,
        "season": season,
        "open_hazards": open_hazards(at.rink)[:20],
        "to_take_down": undone(season, SiteTask.List.TAKE_DOWN),
    }
    return render(request, "setup/close.html", context, status=422 if request.method == "POST" else 200)


def year_later(day: dt.date) -> dt.date:
    """The same day of the next year; 1 March after a leap day."""
    try:
        return day.replace(year=day.year + 1)
    except ValueError:
        return dt.date(day.year + 1, 3, 1)
