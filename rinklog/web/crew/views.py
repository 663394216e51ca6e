"""Signing in and out."""

from django.contrib.auth import login, logout
from django.contrib.auth.forms import AuthenticationForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from rinklog.web.access import anybody


@anybody
def sign_in(request: HttpRequest) -> HttpResponse:
    """Let a person in by login and password."""
    form = AuthenticationForm(request, data=request.POST or None)
    if request.method == "POST" and form.is_valid():
        login(request, form.get_user())
        return redirect(safe_next(request) or "front")
    return render(request, "crew/sign_in.html", {"form": form}, status=422 if request.POST else 200)


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
