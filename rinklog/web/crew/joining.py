"""Getting in for the first time, or again: the claim of a new site, invitations, a new password."""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters

from rinklog.crew import queries, ways_in
from rinklog.crew.doors import CODE, LINK, TooManyTries
from rinklog.crew.models import Invitation, Person, ResetLink
from rinklog.crew.tokens import token_of
from rinklog.facts import Refused
from rinklog.upkeep.models import Claim
from rinklog.upkeep.queries import open_claim
from rinklog.web.access import View, anybody
from rinklog.web.crew.forms import CodeForm, NewPasswordForm, NewPersonForm
from rinklog.web.crew.knocking import look_up, shut_page, shut_sentence
from rinklog.web.crew.views import let_in
from rinklog.web.errors import page
from rinklog.web.panels import posted


def by_link(find: Callable[..., Any]) -> Callable[[View], View]:
    """Let a view in by the token in its address; it gets what the token opens. Guessing is slowed down."""

    def wrap(view: View) -> View:
        @wraps(view)
        def gate(request: HttpRequest, token: str) -> HttpResponseBase:
            try:
                found = look_up(request, LINK, lambda: find(token=token, now=timezone.now()))
            except TooManyTries as shut:
                return shut_page(request, shut)
            if found is None:
                return page(request, 404, str(ways_in.USED_UP))
            return view(request, token, found)

        return anybody(sensitive_post_parameters()(never_cache(gate)))

    return wrap


@by_link(open_claim)
def claim(request: HttpRequest, token: str, found: Claim) -> HttpResponse:
    """Make the first keeper, and go on to make the first rink."""

    def deed(form: NewPersonForm) -> HttpResponse:
        person = ways_in.claim_site(token=token, new=form.new_person(), now=timezone.now())
        let_in(request, person)
        return redirect("new-rink")

    return take(request, NewPersonForm(posted(request)), deed, "crew/claim.html", {})


@by_link(queries.invitation_by_link)
def join(request: HttpRequest, token: str, found: Invitation) -> HttpResponse:
    """Join a crew, as a new person or as the one who is signed in."""
    person = cast(Person, request.user) if request.user.is_authenticated else None

    def deed(form: forms.Form) -> HttpResponse:
        new = form.new_person() if isinstance(form, NewPersonForm) else None
        member = ways_in.accept_invitation(invitation=found, person=person, new=new, now=timezone.now())
        if person is None:
            let_in(request, member.person)
        messages.success(request, _("You are on the crew of %(rink)s.") % {"rink": found.rink.name})
        return redirect("home", slug=found.rink.slug)

    form = (forms.Form if person else NewPersonForm)(posted(request))
    return take(request, form, deed, "crew/join.html", {"invitation": found, "person": person})


@by_link(queries.reset_by_link)
def reset(request: HttpRequest, token: str, found: ResetLink) -> HttpResponse:
    """Choose a new password by a keeper's link."""

    def deed(form: NewPasswordForm) -> HttpResponse:
        password = form.cleaned_data["password"]
        let_in(request, ways_in.use_reset(link=found, password=password, now=timezone.now()))
        return redirect("front")

    form = NewPasswordForm(posted(request), person=found.person)
    return take(request, form, deed, "crew/reset.html", {"person": found.person})


def take(
    request: HttpRequest, form: Any, deed: Callable[..., HttpResponse], template: str, context: dict[str, Any]
) -> HttpResponse:
    """Show a form, or take it and do the deed; what is refused goes back into the form."""
    status = 200
    if request.method == "POST":
        if form.is_valid():
            try:
                return deed(form)
            except Refused as refused:
                form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        status = 422
    return render(request, template, {"form": form} | context, status=status)


@anybody
@never_cache
def enter_code(request: HttpRequest) -> HttpResponse:
    """A code that was read out leads to the same page as the link."""
    form, status = CodeForm(posted(request)), 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            code = form.cleaned_data["code"]
            try:
                found = look_up(request, CODE, lambda: queries.invitation_by_code(code, timezone.now()))
            except TooManyTries as shut:
                form.add_error("code", shut_sentence(shut))
                status = 429
            else:
                if found is not None:
                    return redirect("join-link", token=token_of(found.id))
                form.add_error("code", _("Code is “%(value)s”, which opens nothing.") % {"value": code})
    return render(request, "crew/code.html", {"form": form}, status=status)
