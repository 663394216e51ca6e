"""What is known of each zone: depth, sun, wear, low spots."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rinklog.crew.rights import Right
from rinklog.rink.models import Grid, Zone
from rinklog.rink.queries import zones
from rinklog.rink.services import mark_low_spots, survey_zones
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.rinkmap.drawing import quick_picks
from rinklog.web.rinkmap.picker import picked_in, picker
from rinklog.web.setup.forms import LowSpotsForm, PickedZonesForm, ZoneForm

ROWS_A_PAGE = 10


@on_rink(Right.KEEP)
def survey(request: HttpRequest, at: At) -> HttpResponse:
    """Set the same for all picked zones."""
    grid = at.season.grid
    known = zones(grid)
    form = PickedZonesForm(with_quick_pick(request, grid, known), zones=known)
    saving = request.method == "POST" and "pick" not in request.POST
    if saving and form.is_valid():
        n = survey_zones(grid=grid, known=form.known())
        messages.success(request, said_of(n))
        return redirect("survey", slug=at.rink.slug)
    context = picker(grid, known, picked_in(form)) | {"form": form, "survey_zones": known}
    return render(request, "setup/survey.html", context, status=422 if saving else 200)


def with_quick_pick(request: HttpRequest, grid: Grid, known: list[Zone]) -> QueryDict | None:
    """The post, with the zones of a quick pick in place of the picked ones: the way without JavaScript."""
    post = posted(request)
    if post is not None and (ids := quick_picks(known, grid).get(post.get("pick", ""))):
        post = post.copy()
        post.setlist("zones", [str(id) for id in ids])
    return post


def said_of(n: int) -> str:
    """How many zones were saved."""
    return ngettext("Saved for %(n)d zone.", "Saved for %(n)d zones.", n) % {"n": n}


@on_rink(Right.KEEP)
def survey_table(request: HttpRequest, at: At, first_row: int) -> HttpResponse:
    """Every zone on a line of its own, ten rows of the grid at a time."""
    grid = at.season.grid
    rows = range(first_row, min(first_row + ROWS_A_PAGE, grid.rows))
    shown = [zone for zone in zones(grid) if zone.row in rows]
    forms = [ZoneForm(posted(request), zone=zone) for zone in shown]
    good = all([form.is_valid() for form in forms]) if request.method == "POST" else False
    if good:
        survey_zones(grid=grid, known={form.zone.id: form.known() for form in forms})
        messages.success(request, said_of(len(forms)))
        return redirect("survey-table", slug=at.rink.slug, first_row=first_row)
    context = {"forms": forms, "pages": pages(grid), "first_row": first_row}
    return render(
        request, "setup/survey_table.html", context, status=422 if request.method == "POST" else 200
    )


def pages(grid: Grid) -> list[dict[str, Any]]:
    """The pages of the table, when one is not enough."""
    starts = range(0, grid.rows, ROWS_A_PAGE)
    if len(starts) == 1:
        return []
    return [
        {
            "first_row": start,
            "first": Zone(row=start, column=0).label,
            "last": Zone(row=min(start + ROWS_A_PAGE, grid.rows) - 1, column=grid.columns - 1).label,
        }
        for start in starts
    ]


@on_rink(Right.LOG)
def low_spots(request: HttpRequest, at: At) -> HttpResponse:
    """Mark the zones where the water stands deepest: while the ice is built, only those are flooded."""
    grid = at.season.grid
    known = zones(grid)
    form = LowSpotsForm(
        posted(request), zones=known, initial={"zones": [zone.id for zone in known if zone.low_spot]}
    )
    if request.method == "POST" and form.is_valid():
        mark_low_spots(grid=grid, zone_ids=form.cleaned_data["zones"])
        messages.success(request, _("The low spots are marked."))
        return redirect("home", slug=at.rink.slug)
    context = picker(grid, known, picked_in(form)) | {"form": form, "picks": []}
    return render(request, "setup/low_spots.html", context, status=422 if request.method == "POST" else 200)
