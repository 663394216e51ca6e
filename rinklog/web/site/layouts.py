"""Layouts side by side: move the rink, turn it, level some ground."""

from dataclasses import dataclass
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.geometry.ground import Ground
from rinklog.geometry.sheet import Lay, Sheet
from rinklog.geometry.site import Kit, SiteError, SitePlan, plan_site
from rinklog.geometry.standing import Placed, require_inside
from rinklog.rink.queries import latest_flow_ls
from rinklog.site.models import Layout
from rinklog.site.queries import ground as queries
from rinklog.site.services import ground as services
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.site.costs import water_cost
from rinklog.web.site.forms import LayoutForm
from rinklog.web.site.pictures import Picture, ground_picture
from rinklog.web.site.sentences import said


@dataclass(frozen=True)
class Variant:
    """A layout beside the others: its picture and its figures, or what is in its way."""

    layout: Layout | None
    name: str
    picture: Picture
    plan: SitePlan | None
    trouble: str
    cost: str

    @property
    def minutes(self) -> float | None:
        """Hose to fill it [min]."""
        return self.plan.hose_h * 60 if self.plan and self.plan.hose_h else None


@on_rink(Right.SEE)
def compare(request: HttpRequest, at: At) -> HttpResponse:
    """Every layout beside the others."""
    survey = queries.latest_survey(at.rink)
    if survey is None:
        return render(request, "site/layouts.html", {"variants": []})
    ground, sheet = queries.ground_of(survey), queries.sheet_of(at.season.grid)
    kit, flow_ls = queries.kit_of(queries.materials(at.rink)), latest_flow_ls(at.rink)
    shown: list[tuple[Layout | None, str, Lay]] = [
        (one, one.name, queries.lay_of(one)) for one in queries.layouts(at.rink)
    ]
    if not shown:
        shown = [(None, _("in the middle of the survey"), queries.middle_of(survey))]
    variants = [
        variant(at, layout, name, Placed(ground, sheet, lay), kit, flow_ls) for layout, name, lay in shown
    ]
    return render(request, "site/layouts.html", {"variants": variants, "survey": survey})


def variant(
    at: At, layout: Layout | None, name: str, placed: Placed, kit: Kit, flow_ls: float | None
) -> Variant:
    """One layout worked out."""
    plan, trouble = None, ""
    try:
        plan = plan_site(placed, kit, flow_ls=flow_ls)
    except SiteError as error:
        trouble = said(error)
    cost = water_cost(at, plan.standing.volume_m3) if plan else ""
    return Variant(layout, name, ground_picture(placed), plan, trouble, cost)


@on_rink(Right.KEEP)
def new(request: HttpRequest, at: At) -> HttpResponse:
    """Make a layout."""
    return edit(request, at, None)


@on_rink(Right.KEEP)
def change(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Change a layout."""
    return edit(request, at, at.layout(id))


def edit(request: HttpRequest, at: At, layout: Layout | None) -> HttpResponse:
    """Show and take the form; a sheet that leaves the surveyed ground is refused here."""
    survey = queries.latest_survey(at.rink)
    if survey is None:
        return redirect("site-survey", slug=at.rink.slug)
    form = LayoutForm(posted(request), initial=LayoutForm.start(survey, layout))
    asked = request.method == "POST"
    if asked and form.is_valid():
        ground, sheet = queries.ground_of(survey), queries.sheet_of(at.season.grid)
        if taken(at, form, layout, ground, sheet):
            return redirect("layouts", slug=at.rink.slug)
    context = {"form": form, "layout": layout, "survey": survey}
    return render(request, "site/layout.html", context, status=422 if asked else 200)


def taken(at: At, form: LayoutForm, layout: Layout | None, ground: Ground, sheet: Sheet) -> bool:
    """Keep what was said, or say what is wrong with it."""
    try:
        require_inside(Placed(ground, sheet, form.lay()))
        services.keep_layout(
            id=layout.id if layout else form.cleaned_data["id"],
            rink=at.rink,
            name=form.cleaned_data["name"],
            lay=form.lay(),
            by=at.person,
            now=at.now,
        )
    except SiteError as error:
        form.add_error("lower" if error.code == "upside-down" else "x", said(error))
    except Refused as refused:
        form.add_error(None, str(refused.sentence))
    except Conflict:
        form.add_error(None, _("This form was used on another rink; open it anew."))
    return not form.errors


@on_rink(Right.KEEP)
@require_POST
def choose(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Build by this layout."""
    services.choose_layout(layout=at.layout(id))
    return redirect("layouts", slug=at.rink.slug)


@on_rink(Right.KEEP)
@require_POST
def remove(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Drop a layout."""
    services.remove_layout(layout=at.layout(id))
    return redirect("layouts", slug=at.rink.slug)
