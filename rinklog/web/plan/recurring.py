"""Recurring work: what is due now, what is coming, how the last dates ended, and the rules behind them."""

import datetime as dt
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.plan.models import DueDate, RecurringTask
from rinklog.plan.queries import due as queries
from rinklog.plan.queries.due import Standing
from rinklog.plan.rule_words import in_words
from rinklog.plan.services import due as services
from rinklog.web.access import At, on_rink
from rinklog.web.plan.reasons import condition_words, let_go_words
from rinklog.web.plan.recurring_form import RecurringForm

BACK, AHEAD = dt.timedelta(days=7), dt.timedelta(days=7)
# Where a round is written down: the address and the kind it opens with.
WRITE_DOWN: dict[str, tuple[str, str]] = {
    "resurfacing": ("record", "flood"),
    "flood": ("record", "flood"),
    "snow-check": ("record", "snow-removal"),
    "snow-removal": ("record", "snow-removal"),
    "drill-round": ("record", "drill-hole"),
    "patch": ("record", "patch"),
    "inspection": ("record", "inspection"),
    "hazard-round": ("walk", ""),
    "machine-check": ("machine-check", ""),
}


@dataclass(frozen=True)
class Line:
    """A date as it is shown."""

    standing: Standing
    why: str
    address: str
    kind: str

    @property
    def state_name(self) -> str:
        """How it stands, in words."""
        return str(DueDate.State(self.standing.state).label)


@on_rink(Right.SEE)
def recurring(request: HttpRequest, at: At) -> HttpResponse:
    """What is due, what is coming, what became of the last dates, and the rules."""
    lines = [line(one, at) for one in queries.standings(at.rink, at.now - BACK, at.now + AHEAD, at.now)]
    state = DueDate.State
    context = {
        "due_now": [
            one for one in lines if one.standing.state == state.OPEN and one.standing.date.due_at <= at.now
        ],
        "coming": [one for one in lines if one.standing.date.due_at > at.now][:12],
        "ended": [one for one in reversed(lines) if one.standing.state != state.OPEN],
        "tasks": [
            (task, in_words(task.rule, task.begins_on), condition_words(task.only_when))
            for task in queries.tasks(at.rink)
        ],
    }
    return render(request, "plan/recurring.html", context)


def line(one: Standing, at: At) -> Line:
    """A date with its reason in words."""
    why = let_go_words(one.date.reason, at.zone) if one.state == DueDate.State.LET_GO else ""
    address, kind = WRITE_DOWN[one.date.task.round]
    return Line(one, why, address, kind)


@on_rink(Right.RUN_CREW)
def new(request: HttpRequest, at: At) -> HttpResponse:
    """Make recurring work."""
    return edit(request, at, None)


@on_rink(Right.RUN_CREW)
def change(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Change recurring work."""
    return edit(request, at, at.recurring_task(id))


@on_rink(Right.RUN_CREW)
@require_POST
def end(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Stop recurring work."""
    services.end_task(task=at.recurring_task(id), now=at.now)
    return redirect("recurring", slug=at.rink.slug)


def edit(request: HttpRequest, at: At, task: RecurringTask | None) -> HttpResponse:
    """Show and take the form."""
    if request.method != "POST":
        return form_page(request, RecurringForm(initial=RecurringForm.start(at, task)), task)
    form = RecurringForm(request.POST)
    if form.is_valid():
        id = task.id if task else form.cleaned_data["id"]
        try:
            services.save_task(id=id, rink=at.rink, content=form.content(), by=at.person, now=at.now)
        except Refused as refused:
            form.add_error(None, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("This form was used on another rink; open it anew."))
        else:
            return redirect("recurring", slug=at.rink.slug)
    return form_page(request, form, task, status=422)


def form_page(
    request: HttpRequest, form: RecurringForm, task: RecurringTask | None, status: int = 200
) -> HttpResponse:
    """The form of recurring work."""
    context: dict[str, Any] = {"form": form, "task": task}
    return render(request, "plan/recurring_form.html", context, status=status)
