"""Days by which a grant, an insurance or a permit must be in."""

import datetime as dt
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.owed import queries, services
from rinklog.web.access import At, on_rink
from rinklog.web.owed.forms import DeadlineForm, EndForm
from rinklog.web.panels import posted

YEAR = dt.timedelta(days=400)


@on_rink(Right.SEE_ACCIDENTS)
def deadlines(request: HttpRequest, at: At) -> HttpResponse:
    """What is to come, and what was done within a year or so."""
    return page(request, at)


def page(request: HttpRequest, at: At, status: int = 200, form: DeadlineForm | None = None) -> HttpResponse:
    """The dates with their form."""
    context = {
        "to_come": [(one, (one.due_on - at.today).days) for one in queries.to_come(at.rink)],
        "done": queries.ended(at.rink, since=at.today - YEAR, until=at.today),
        "form": form or DeadlineForm(),
    }
    return render(request, "owed/deadlines.html", context, status=status)


@on_rink(Right.RUN_CREW)
@require_POST
def add(request: HttpRequest, at: At) -> HttpResponse:
    """Write a date down."""
    form = DeadlineForm(posted(request))
    if form.is_valid():
        try:
            services.write_deadline(
                rink=at.rink, by=at.person, now=at.now, today=at.today, **form.cleaned_data
            )
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("Something else has this form's number already; open the page again."))
        else:
            return redirect("deadlines", slug=at.rink.slug)
    return page(request, at, 422, form)


@on_rink(Right.RUN_CREW)
@require_POST
def end(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Say that a date is done, or no longer wanted."""
    deadline, form = at.deadline(id), EndForm(posted(request))
    if not form.is_valid():
        return page(request, at, 422)
    done = form.cleaned_data["done"] == "yes"
    services.end_deadline(deadline=deadline, done=done, by=at.person, now=at.now, today=at.today)
    return redirect("deadlines", slug=at.rink.slug)
