"""The paper log to print, and the form it is typed into afterwards."""

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from rinklog.crew.rights import Right
from rinklog.geometry.grid import Grid as Plan
from rinklog.reports.printed.paper_log import Sheet, paper_log
from rinklog.web import measures
from rinklog.web.access import At, on_rink
from rinklog.web.logbook.ways import ways
from rinklog.web.middleware import current_units


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
