"""Who may do what and when people can come; weekday teams; the days on which the hut must not be forgotten."""

from typing import Any
from uuid import UUID

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.queries import crew_of
from rinklog.crew.rights import Right
from rinklog.facts import Refused
from rinklog.plan.models import PermissionKind, Team
from rinklog.plan.queries import people as queries
from rinklog.plan.services import people as services
from rinklog.plan.services import teams as team_services
from rinklog.web.access import At, found, on_rink
from rinklog.web.plan.people_forms import AvailabilityForm, HolidayForm, PermissionForm, TeamForm


def refuse(form: forms.Form, refused: Refused) -> None:
    """Put a refusal beside its field."""
    form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))


@on_rink(Right.RUN_CREW)
def permissions(request: HttpRequest, at: At) -> HttpResponse:
    """Everybody and what they may do; write one down."""
    crew = crew_of(at.rink)
    form = PermissionForm(request.POST or None, crew=crew, initial={"since": at.today})
    if request.method == "POST" and form.is_valid():
        data = dict(form.cleaned_data)
        person = next(one for one in crew if str(one.id) == data.pop("person"))
        try:
            services.give_permission(rink=at.rink, person=person, by=at.person, now=at.now, **data)
        except Refused as refused:
            refuse(form, refused)
        else:
            return redirect("permissions", slug=at.rink.slug)
    held: dict[UUID, dict[str, Any]] = {}
    for one in queries.permissions(at.rink):
        held.setdefault(one.person_id, {})[one.what] = one
    context = {
        "form": form,
        "kinds": PermissionKind.choices,
        "rows": [
            (one, [(key, title, held.get(one.id, {}).get(key)) for key, title in PermissionKind.choices])
            for one in crew
        ],
    }
    return render(request, "plan/permissions.html", context, status=422 if form.errors else 200)


@on_rink(Right.RUN_CREW)
@require_POST
def permission_withdraw(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take a permission back."""
    services.withdraw_permission(permission=found(queries.permission(at.rink, id)), now=at.now)
    return redirect("permissions", slug=at.rink.slug)


@on_rink(Right.LOG)
def my_times(request: HttpRequest, at: At) -> HttpResponse:
    """When I can come, and what I may do until when."""
    form = AvailabilityForm(request.POST or None, at=at, initial=AvailabilityForm.start(at))
    if request.method == "POST" and form.is_valid():
        try:
            services.say_availability(
                id=form.cleaned_data["id"], rink=at.rink, person=at.person, line=form.line(), now=at.now
            )
        except Refused as refused:
            refuse(form, refused)
        else:
            return redirect("my-times", slug=at.rink.slug)
    context = {
        "form": form,
        "lines": queries.lines(at.rink, at.person),
        "permissions": queries.permissions(at.rink).filter(person=at.person),
    }
    return render(request, "plan/my_times.html", context, status=422 if form.errors else 200)


@on_rink(Right.LOG)
@require_POST
def my_time_remove(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Remove one of my lines."""
    services.forget_availability(line=found(queries.line(at.rink, at.person, id)))
    return redirect("my-times", slug=at.rink.slug)


@on_rink(Right.RUN_CREW)
def teams(request: HttpRequest, at: At) -> HttpResponse:
    """The weekday teams."""
    return render(request, "plan/teams.html", {"teams": queries.teams(at.rink)})


@on_rink(Right.RUN_CREW)
def team_new(request: HttpRequest, at: At) -> HttpResponse:
    """Make a team."""
    return team_form(request, at, None)


@on_rink(Right.RUN_CREW)
def team(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Change a team."""
    return team_form(request, at, found(queries.team(at.rink, id)))


@on_rink(Right.RUN_CREW)
@require_POST
def team_end(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """No further evenings of a team."""
    team_services.end_team(team=found(queries.team(at.rink, id)), now=at.now)
    return redirect("teams", slug=at.rink.slug)


def team_form(request: HttpRequest, at: At, one: Team | None) -> HttpResponse:
    """Show and take the form of a team."""
    form = TeamForm(request.POST or None, crew=crew_of(at.rink), initial=TeamForm.start(one))
    if request.method == "POST" and form.is_valid():
        values = form.values() | ({"id": one.id} if one else {})
        try:
            team_services.save_team(rink=at.rink, by=at.person, now=at.now, **values)
        except Refused as refused:
            refuse(form, refused)
        else:
            return redirect("teams", slug=at.rink.slug)
    context = {"form": form, "team": one}
    return render(request, "plan/team_form.html", context, status=422 if form.errors else 200)


@on_rink(Right.RUN_CREW)
def holidays(request: HttpRequest, at: At) -> HttpResponse:
    """The days on which the hut must not be forgotten."""
    days = "\n".join(f"{one.day} {one.name}".strip() for one in queries.holidays(at.rink))
    form = HolidayForm(request.POST if request.method == "POST" else None, initial={"days": days})
    if request.method == "POST" and form.is_valid():
        services.set_holidays(rink=at.rink, days=form.cleaned_data["days"])
        messages.success(request, _("Saved."))
        return redirect("holidays", slug=at.rink.slug)
    context = {"form": form, "uncovered": queries.uncovered_holidays(at.rink, at.today)}
    return render(request, "plan/holidays.html", context, status=422 if form.errors else 200)
