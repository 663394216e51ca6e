"""The survey of the ground, and what the rink is built with."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from rinklog.crew.rights import Right
from rinklog.facts import Conflict
from rinklog.site.queries import ground as queries
from rinklog.site.services.ground import keep_materials, keep_survey
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.site.forms import MaterialsForm, SurveyForm


@on_rink(Right.KEEP)
def survey(request: HttpRequest, at: At) -> HttpResponse:
    """Take a survey; those before it stay."""
    grid, earlier = at.season.grid, list(queries.surveys(at.rink)[:6])
    start = SurveyForm.start((grid.length_m, grid.width_m), at.today, earlier[0] if earlier else None)
    form = SurveyForm(posted(request), request.FILES or None, initial=start)
    asked = request.method == "POST"
    if asked and form.is_valid():
        data = form.cleaned_data
        try:
            keep_survey(
                id=data["id"],
                rink=at.rink,
                levels_m=data["levels_m"],
                size_m=(data["length"], data["width"]),
                measured_on=data["measured_on"],
                note=data["note"],
                by=at.person,
                now=at.now,
            )
        except Conflict:
            form.add_error(
                None, _("This form was sent before with other heights; open it anew to keep both.")
            )
        else:
            messages.success(request, _("The survey is kept."))
            return redirect("site-plan", slug=at.rink.slug)
    context = {"form": form, "earlier": earlier}
    return render(request, "site/survey.html", context, status=422 if asked else 200)


@on_rink(Right.KEEP)
def materials(request: HttpRequest, at: At) -> HttpResponse:
    """Say what the rink is built with."""
    form = MaterialsForm(posted(request), initial=MaterialsForm.start(queries.materials(at.rink)))
    if request.method == "POST" and form.is_valid():
        keep_materials(rink=at.rink, kit=form.kit(), gust_ms=form.cleaned_data["gust"])
        return redirect("site-plan", slug=at.rink.slug)
    return render(
        request, "site/materials.html", {"form": form}, status=422 if request.method == "POST" else 200
    )
