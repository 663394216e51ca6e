"""Signing in and out."""

import time
from typing import cast

from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from rinklog.crew.doors import ADDRESS, SIGN_IN, TooManyTries, came_in, knock
from rinklog.crew.models import Attempt, Person
from rinklog.web.access import anybody
from rinklog.web.crew.forms import SignInForm
from rinklog.web.crew.knocking import address_of, shut_sentence
from rinklog.web.middleware import RENEWED


@anybody
@sensitive_post_parameters()
@never_cache
def sign_in(request: HttpRequest) -> HttpResponse:
    """Let a person in by login and password; the answer is the same whether the login or the password is wrong."""
    if request.method != "POST":
        return sign_in_page(request, SignInForm(request), 200)
    try:
        attempts = knock_at_sign_in(request)
    except TooManyTries as shut:
        form = SignInForm(request, initial={"username": request.POST.get("username", "")})
        return sign_in_page(request, form, 429, shut_sentence(shut))
    form = SignInForm(request, data=request.POST)
    if not form.is_valid():
        return sign_in_page(request, form, 422)
    came_in(*attempts)
    let_in(request, cast(Person, form.get_user()), stay=form.cleaned_data["stay"])
    return redirect(safe_next(request) or "front")


def sign_in_page(request: HttpRequest, form: SignInForm, status: int, sentence: str = "") -> HttpResponse:
    """The form, and what was wrong."""
    return render(request, "crew/sign_in.html", {"form": form, "sentence": sentence}, status=status)


def knock_at_sign_in(request: HttpRequest) -> list[Attempt]:
    """Count a try by address, and by login together with address: nobody is locked out from elsewhere."""
    address, now = address_of(request), timezone.now()
    name = request.POST.get("username", "").casefold()[:200]
    by_address = knock(door=ADDRESS, who=address, now=now)
    try:
        return [by_address, knock(door=SIGN_IN, who=f"{address} {name}", now=now)]
    except TooManyTries:
        came_in(by_address)  # not judged, so not a try
        raise


def let_in(request: HttpRequest, person: Person, *, stay: bool = True) -> None:
    """Open a session that lasts a season, or on a shared device until the browser closes."""
    login(request, person)
    request.session[RENEWED] = int(time.time())
    if not stay:
        request.session.set_expiry(0)


def safe_next(request: HttpRequest) -> str:
    """Where the person wanted to go, if it is on this site."""
    target = request.GET.get("next", "")
    allowed = url_has_allowed_host_and_scheme(target, {request.get_host()}, require_https=request.is_secure())
    return target if allowed else ""


@anybody
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End this session."""
    logout(request)
    return redirect("sign-in")
