"""What ran by the clock, what failed and why; and once more, please."""

from typing import Any

from celery import current_app
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.upkeep import queries, services
from rinklog.upkeep.queue import soon
from rinklog.web.access import At, on_rink

SHOWN = 100


@on_rink(Right.KEEP)
def runs(request: HttpRequest, at: At) -> HttpResponse:
    """Troubles first, then the last run of everything."""
    context: dict[str, Any] = {
        "troubles": queries.troubles(at.now)[:SHOWN],
        "runs": queries.runs(at.now)[:SHOWN],
    }
    return render(request, "plan/runs.html", context)


@on_rink(Right.KEEP)
@require_POST
def run_again(request: HttpRequest, at: At, id: int) -> HttpResponse:
    """Queue a task once more: every task may run twice."""
    run = at.task_run(id)
    current_app.loader.import_default_modules()  # a web process knows only the tasks it has used itself
    task = current_app.tasks.get(run.name)
    if task is None:
        messages.error(request, _("This program has no task “%(name)s” any more.") % {"name": run.name})
    else:
        services.mark_run_again(run=run, now=at.now)
        soon(task, *run.args)
        messages.success(request, _("Queued again: %(name)s.") % {"name": run.name})
    return redirect("runs", slug=at.rink.slug)
