"""The lists of autumn and spring: what is to do, in which order, when, by whom, and what is done."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.advice.fill.reading import fill_facts
from rinklog.crew.queries import crew_of
from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.rink.models import Season
from rinklog.site.forecast_dates import Suits, suits
from rinklog.site.models import SiteTask
from rinklog.site.queries import lists as queries
from rinklog.site.services import lists as services
from rinklog.site.usual import source_of, title_of
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.site.list_forms import DoneForm, TaskForm

NAMES = {SiteTask.List.SET_UP: SiteTask.List.TAKE_DOWN, SiteTask.List.TAKE_DOWN: SiteTask.List.SET_UP}


@on_rink(Right.SEE)
def site_list(request: HttpRequest, at: At, name: str) -> HttpResponse:
    """One list as it stands."""
    return list_page(request, at, name)


def list_page(
    request: HttpRequest, at: At, name: str, refused: dict[UUID, str] | None = None, status: int = 200
) -> HttpResponse:
    """A list; `refused` has, by task, why it was not taken as done."""
    season = season_of(at, name)
    found = forecast(at) if queries.undone(season, name) else {}
    lines = [
        {
            "is": one,
            "title": title_of(one.task),
            "source": source_of(one.task),
            "waits": ", ".join(title_of(other) for other in one.waits_for),
            "refused": (refused or {}).get(one.task.id, ""),
        }
        for one in queries.standings(season, name, found, at.today)
    ]
    context = {
        "name": name,
        "other": NAMES[SiteTask.List(name)],
        "season": season,
        "lines": lines,
        "done": sum(line["is"].task.done_on is not None for line in lines),  # type: ignore[attr-defined]
        "foretold": bool(found),
    }
    return render(request, "site/list.html", context, status=status)


def season_of(at: At, name: str) -> Season:
    """The season whose list this is; 404 for a list that there is not."""
    if name not in SiteTask.List.values:
        raise Http404
    return queries.season_for(at.rink, at.season, name)


def forecast(at: At) -> dict[str, Suits]:
    """What the forecast suits."""
    facts = fill_facts(at.rink, at.now)
    return suits(facts.days, facts.ahead, facts.rules, facts.zone) if facts else {}


@on_rink(Right.RUN_CREW)
@require_POST
def begin(request: HttpRequest, at: At, name: str) -> HttpResponse:
    """Begin a list from last season's, or from the usual one."""
    services.begin_list(season=season_of(at, name), name=name, by=at.person, now=at.now)
    return redirect("site-list", slug=at.rink.slug, name=name)


@on_rink(Right.RUN_CREW)
def new(request: HttpRequest, at: At, name: str) -> HttpResponse:
    """Add a task of one's own."""
    return edit(request, at, season_of(at, name), name, None)


@on_rink(Right.RUN_CREW)
def change(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Change a task."""
    task = at.site_task(id)
    return edit(request, at, task.season, task.list, task)


def edit(request: HttpRequest, at: At, season: Season, name: str, task: SiteTask | None) -> HttpResponse:
    """Show and take the form."""
    others = [one for one in queries.tasks(season, name) if task is None or one.id != task.id]
    start: dict[str, Any] = TaskForm.start(task)
    form = TaskForm(posted(request), initial=start, others=others, people=crew_of(at.rink))
    asked = request.method == "POST"
    if asked and form.is_valid():
        try:
            services.keep_task(
                id=task.id if task else form.cleaned_data["id"],
                season=season,
                name=name,
                content=form.content(),
                by=at.person,
                now=at.now,
            )
        except Refused as refused:
            form.add_error(refused.field, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("This form was used for another list; open it anew."))
        else:
            return redirect("site-list", slug=at.rink.slug, name=name)
    context = {"form": form, "task": task, "title": title_of(task) if task else "", "name": name}
    return render(request, "site/task.html", context, status=422 if asked else 200)


@on_rink(Right.LOG)
@require_POST
def done(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Say that a task is done; what must come before it is asked for once."""
    task = at.site_task(id)
    form = DoneForm(request.POST)
    if not form.is_valid():
        return list_page(request, at, task.list, {task.id: " ".join(map(str, form.errors["on"]))}, status=422)
    try:
        services.finish_task(
            task=task,
            on=form.cleaned_data["on"] or at.today,
            today=at.today,
            by=at.person,
            anyway="anyway" in request.POST,
        )
    except Refused as refused:
        return list_page(request, at, task.list, {task.id: str(refused.sentence)}, status=422)
    return redirect("site-list", slug=at.rink.slug, name=task.list)


@on_rink(Right.LOG)
@require_POST
def reopen(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Say that a task is not done after all."""
    task = at.site_task(id)
    try:
        services.reopen_task(task=task, by=at.person)
    except Refused as refused:
        messages.error(request, str(refused.sentence))
    return redirect("site-list", slug=at.rink.slug, name=task.list)


@on_rink(Right.RUN_CREW)
@require_POST
def remove(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Drop a task."""
    task = at.site_task(id)
    name = task.list
    try:
        services.remove_task(task=task, by=at.person)
    except Refused as refused:
        messages.error(request, str(refused.sentence))
    return redirect("site-list", slug=at.rink.slug, name=name)
