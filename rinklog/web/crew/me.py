"""One's own page: name, language and units, password, crews, signing out everywhere."""

from copy import copy
from typing import cast

from django.contrib import messages
from django.contrib.auth import logout, update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone, translation
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from rinklog.crew import queries, services
from rinklog.crew.doors import PASSWORD, TooManyTries, came_in, knock
from rinklog.crew.models import Person
from rinklog.web.access import signed_in
from rinklog.web.crew.forms import OwnPasswordForm, ReadingForm
from rinklog.web.crew.knocking import address_of, shut_page
from rinklog.web.panels import posted


@signed_in
def me(request: HttpRequest) -> HttpResponse:
    """Show and take name, language and units; show what else one can do for oneself."""
    person = cast(Person, request.user)
    form = ReadingForm(posted(request), instance=copy(person))
    status = 200
    if request.method == "POST":
        if form.is_valid():
            services.rename(person=person, name=form.cleaned_data["name"])
            services.read_as(person=person, reading=form.reading())
            with translation.override(person.language):
                messages.success(request, _("Saved."))
            return redirect("me")
        status = 422
    context = {
        "form": form,
        "members": queries.rinks_of(person),
        "may_make_rink": queries.may_make_rink(person),
    }
    return render(request, "crew/me.html", context, status=status)


@signed_in
@sensitive_post_parameters()
@never_cache
def password(request: HttpRequest) -> HttpResponse:
    """Change one's own password: other devices are signed out by it, this one stays."""
    person = cast(Person, request.user)
    form = OwnPasswordForm(posted(request), person=person)
    if request.method != "POST":
        return render(request, "crew/password.html", {"form": form})
    try:
        attempt = knock(door=PASSWORD, who=f"{address_of(request)} {person.id}", now=timezone.now())
    except TooManyTries as shut:
        return shut_page(request, shut)
    if not form.is_valid():
        if "present" not in form.errors:
            came_in(attempt)
        return render(request, "crew/password.html", {"form": form}, status=422)
    came_in(attempt)
    services.set_password(person=person, password=form.cleaned_data["password"])
    update_session_auth_hash(request, person)
    messages.success(request, _("The password is changed. Other devices are signed out."))
    return redirect("me")


@signed_in
@require_POST
def sign_out_everywhere(request: HttpRequest) -> HttpResponse:
    """End every session of this person, on every device."""
    services.end_all_sessions(person=cast(Person, request.user))
    logout(request)
    messages.success(request, _("You are signed out on every device."))
    return redirect("sign-in")
