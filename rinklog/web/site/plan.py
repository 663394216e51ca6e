"""The set-up worked through: from a level survey to the shopping list."""

import math
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.geometry.boards import CHECK_DEPTH_M
from rinklog.geometry.levels import out_of_plane_m
from rinklog.geometry.site import SiteError, SitePlan, plan_site
from rinklog.geometry.squareness import shift_m
from rinklog.geometry.standing import Placed
from rinklog.geometry.wind_load import net_nm, wall_nm
from rinklog.reports.tables import as_csv
from rinklog.rink.queries import latest_flow_ls
from rinklog.site.queries import ground as queries
from rinklog.site.queries import store
from rinklog.site.services.ground import give_zones_their_depths
from rinklog.site.shopping import Need, needs
from rinklog.web.access import At, on_rink
from rinklog.web.site.costs import water_cost
from rinklog.web.site.forms import SquareForm
from rinklog.web.site.pictures import depth_picture
from rinklog.web.site.sentences import said

G = 9.80665
ODD_CORNER_M = 0.05
"""From here on four corners are no plane: about what a tape and a string are good for. Common practice, no source."""
STEEP_SITE_M = 0.30
"""High to low on a lined site: 25 to 30 cm at most, Burlington ON, Neighbourhood rinks."""


@on_rink(Right.SEE)
def site(request: HttpRequest, at: At) -> HttpResponse:
    """What the chosen layout needs, or what is in its way."""
    found = queries.chosen_placed(at.rink, at.season.grid)
    context: dict[str, Any] = {"grid": at.season.grid, "survey": None}
    if found:
        survey, layout, placed = found
        context |= {"survey": survey, "layout": layout, "odd_m": odd_corner(survey.levels_m)}
        try:
            context |= worked_out(at, placed)
        except SiteError as error:
            context["trouble"] = said(error)
        context |= square(request, at)
    return render(request, "site/plan.html", context)


def odd_corner(levels_m: list[list[float]]) -> float | None:
    """How far four corner heights are off one plane [m], where that is worth a word."""
    odd = out_of_plane_m(levels_m)
    return odd if odd is not None and odd > ODD_CORNER_M else None


def worked_out(at: At, placed: Placed) -> dict[str, Any]:
    """The plan with its pictures, its cautions, its price and its list."""
    plan, wanted = planned(at, placed)
    water, found = plan.standing, queries.materials(at.rink)
    kit, gust = queries.kit_of(found), queries.gust_of(found)
    spot = (water.board_u_m, water.board_v_m)
    return {
        "plan": plan,
        "kit": kit,
        "gust_ms": gust,
        "picture": depth_picture(placed, plan.depths_m, spot),
        "rows": list(enumerate(plan.depths_m, start=1))[::-1],
        "cost": water_cost(at, water.volume_m3),
        "check_boards": water.board_depth_m >= CHECK_DEPTH_M,
        "steep": water.fall_m > STEEP_SITE_M,
        "corner": corner_rows(plan),
        "push_kg": plan.push_nm / G,
        "wall_kg": wall_nm(gust, kit.board_m) / G,
        "net_kg": net_nm(gust, kit.net_m) / G if kit.net_m else None,
        "iced_kg": wall_nm(gust, kit.net_m) / G if kit.net_m else None,
        "minutes": None if plan.hose_h is None else plan.hose_h * 60,
        "needs": wanted,
        "side": side_words(placed, *spot),
    }


def planned(at: At, placed: Placed) -> tuple[SitePlan, list[Need]]:
    """The plan of a layout and its shopping list. Errors: SiteError."""
    kit = queries.kit_of(queries.materials(at.rink))
    grid = at.season.grid
    plan = plan_site(placed, kit, flow_ls=latest_flow_ls(at.rink), cells=(grid.rows, grid.columns))
    cut = (plan.liner.cut_length_m, plan.liner.cut_width_m)
    return plan, needs(plan, kit, store.usable(store.items(at.rink), cut))


def corner_rows(plan: SitePlan) -> list[tuple[float, float, float, float]]:
    """Stakes of a corner: along, across, from the stake before, and off the straight line between the ends [m]."""
    if plan.corner is None:
        return []
    x, y, chord = plan.corner
    radius = x[0]
    return [(a, b, c, (radius - a - b) / math.sqrt(2)) for a, b, c in zip(x, y, chord, strict=True)]


def side_words(placed: Placed, u_m: float, v_m: float) -> str:
    """Where along the boards a point lies."""
    sheet = placed.sheet
    along = (
        _("near end")
        if u_m < sheet.length_m / 3
        else _("far end")
        if u_m > sheet.length_m * 2 / 3
        else _("middle")
    )
    across = (
        _("left") if v_m < sheet.width_m / 3 else _("right") if v_m > sheet.width_m * 2 / 3 else _("between")
    )
    return f"{along}, {across}"


def square(request: HttpRequest, at: At) -> dict[str, Any]:
    """What two measured diagonals say, when they are asked about in the address."""
    form = SquareForm(request.GET if "first" in request.GET else None)
    context: dict[str, Any] = {"square": form}
    if form.is_bound and form.is_valid():
        data = form.cleaned_data
        context["shift_m"] = abs(shift_m(data["first"], data["second"], at.season.grid.width_m))
        context["shift_left"] = data["first"] > data["second"]
    return context


@on_rink(Right.SEE)
def shopping(request: HttpRequest, at: At) -> HttpResponse:
    """The shopping list as CSV."""
    found = queries.chosen_placed(at.rink, at.season.grid)
    if found is None:
        raise Http404
    try:
        _plan, wanted = planned(at, found[2])
    except SiteError as error:
        return HttpResponse(said(error), status=422, content_type="text/plain; charset=utf-8")
    rows: list[list[object]] = [["thing", "needed", "there", "to_buy", "unit", "length_m", "width_m"]]
    for one in wanted:
        counts = (f"{number:.10g}" for number in (one.needed, one.there, one.to_buy))
        sizes = ("" if size is None else f"{size:.3f}" for size in (one.long_m, one.wide_m))
        rows.append([str(one.thing), *counts, one.unit, *sizes])
    reply = HttpResponse(as_csv(rows), content_type="text/csv; charset=utf-8")
    reply.headers["Content-Disposition"] = 'attachment; filename="shopping.csv"'
    return reply


@on_rink(Right.KEEP)
@require_POST
def depths(request: HttpRequest, at: At) -> HttpResponse:
    """Give every zone the mean depth that the chosen layout leaves in it."""
    found = queries.chosen_placed(at.rink, at.season.grid)
    if found is None:
        raise Http404
    kit = queries.kit_of(queries.materials(at.rink))
    try:
        planned(at, found[2])
    except SiteError as error:
        messages.error(request, said(error))
        return redirect("site-plan", slug=at.rink.slug)
    count = give_zones_their_depths(grid=at.season.grid, placed=found[2], cover_m=kit.cover_m)
    messages.success(
        request,
        ngettext(
            "%(n)d zone has its depth from this survey.",
            "%(n)d zones have their depth from this survey.",
            count,
        )
        % {"n": count},
    )
    return redirect("survey", slug=at.rink.slug)
