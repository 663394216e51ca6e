"""The paper log to print, and the form it is typed into afterwards."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_safe

from rinklog.advice.services import keep_predictions
from rinklog.crew.rights import Right
from rinklog.facts import Conflict
from rinklog.geometry.grid import Grid as Plan
from rinklog.reports.printed.paper_log import Sheet, paper_log
from rinklog.web import measures
from rinklog.web.access import At, on_rink
from rinklog.web.logbook.paper_form import Paper
from rinklog.web.logbook.ways import ways
from rinklog.web.middleware import current_units
from rinklog.work.sheets import LineRefused, record_sheet


@on_rink(Right.LOG)
@require_safe
def paper(request: HttpRequest, at: At) -> HttpResponse:
    """The page to print, for this rink's zones."""
    grid, units = at.season.grid, current_units()
    sheet = Sheet(
        rink=at.rink.name,
        season=at.season.name,
        plan=Plan(grid.length_m, grid.width_m, grid.corner_m, grid.rows, grid.columns),
        ways=tuple(words for _key, words in ways()),
        water_unit=measures.unit_text("water", units),
        depth_unit=measures.unit_text("depth", units),
        caution=_(
            "Paper never opens the rink: a person does, after drilling. Torch only with two trained adults, away "
            "from liner and boards. Nobody alone on the ice at night. Call for help first, write afterwards."
        ),
    )
    response = HttpResponse(paper_log(sheet), content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{at.rink.slug}-paper-log.pdf"'
    return response


@on_rink(Right.LOG)
def typing(request: HttpRequest, at: At) -> HttpResponse:
    """The form it is typed into: all rows are saved, or none and the form again with every row as it was."""
    if request.method != "POST":
        return render(request, "logbook/paper.html", {"paper": Paper(at)})
    typed = Paper(at, request.POST)
    if "more" in request.POST:
        return render(request, "logbook/paper.html", {"paper": typed, "unjudged": True})
    made = save(at, typed) if typed.is_valid() else None
    if made is None:
        return render(request, "logbook/paper.html", {"paper": typed}, status=422)
    said = ngettext("%(count)d row is in the log.", "%(count)d rows are in the log.", made) % {"count": made}
    messages.success(request, said if made else _("These rows were in the log already: nothing is doubled."))
    day = typed.head.cleaned_data["day"].isoformat()
    return redirect(f"{reverse('log', kwargs={'slug': at.rink.slug})}?since={day}")


def save(at: At, typed: Paper) -> int | None:
    """Record the sheet; how many of its rows were new, or None, with the sentence at its row, when one is refused."""
    lines = typed.lines()
    if any(row.errors for row in typed.written.values()):
        return None
    try:
        saved = record_sheet(
            id=typed.head.cleaned_data["id"], rink=at.rink, lines=lines, by=at.person, now=at.now
        )
    except LineRefused as refused:
        row = typed.written[refused.key]
        if isinstance(refused.why, Conflict):
            row.add_error(None, _("This row is in the log with other words already: amend it there."))
        else:
            row.add_error(row.place_of(refused.why.field), str(refused.why.sentence))
        return None
    keep_predictions(rink=at.rink, now=at.now)
    return sum(one.made for one in saved)
