"""The ice estimate zone by zone, and the drill holes that somebody is asked about."""

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from rinklog.crew.rights import Right
from rinklog.facts import Conflict
from rinklog.ice import queries, services
from rinklog.ice.models import HoleQuestion
from rinklog.ice.tasks import project
from rinklog.rink.queries import zones
from rinklog.upkeep.queue import soon
from rinklog.web.access import At, on_rink
from rinklog.web.ice.forms import AnswerForm
from rinklog.web.ice.showing import ice_context, thinnest
from rinklog.web.middleware import current_units
from rinklog.web.rinkmap.ice_layers import ice_rows


@on_rink(Right.SEE)
@require_safe
def ice(request: HttpRequest, at: At) -> HttpResponse:
    """The estimate of every zone with its spread, what it was made from, and what is asked about."""
    context = ice_context(at)
    sheet = zones(at.season.grid)
    found = ice_rows(sheet, context["estimate"], "thickness", context["rules"], current_units())
    least = thinnest(context["estimate"])
    extra = {
        "ice_rows": found,
        "questions": queries.open_questions(at.rink),
        "thinnest": least,
        "thinnest_zone": next((zone for zone in sheet if least and zone.id == least.zone_id), None),
    }
    return render(request, "ice/ice.html", context | extra)


@on_rink(Right.LOG)
def hole_question(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One drill hole that does not fit: what was measured, what was expected, and a person's answer."""
    question = at.hole_question(id)
    form = AnswerForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        return _answered(request, at, question, form)
    context = {"question": question, "form": form, "mistake": HoleQuestion.Answer.MISTAKE}
    return render(request, "ice/hole.html", context, status=422 if request.method == "POST" else 200)


def _answered(request: HttpRequest, at: At, question: HoleQuestion, form: AnswerForm) -> HttpResponse:
    answer = form.cleaned_data["answer"]
    try:
        services.answer_question(question=question, answer=answer, by=at.person, now=at.now)
    except Conflict as conflict:
        form.add_error(
            "answer",
            _("%(name)s has already answered: %(answer)s. Amend the hole if that is wrong.")
            % {"name": conflict.existing.answered_by.name, "answer": conflict.existing.get_answer_display()},
        )
        context = {"question": at.hole_question(question.entry_id), "form": form}
        return render(request, "ice/hole.html", context, status=409)
    soon(project, at.rink.id)
    if answer == HoleQuestion.Answer.RIGHT:
        messages.success(request, _("Noted: the hole counts. The estimate follows within a minute."))
        return redirect("ice", slug=at.rink.slug)
    messages.success(request, _("Noted: the hole is left out. Amend it if you know what was measured."))
    return redirect("entry", slug=at.rink.slug, id=question.entry.root_id)
