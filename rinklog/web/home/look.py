"""Choosing how this device looks."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from rinklog.web.access import signed_in
from rinklog.web.looks import COOKIE, KEPT_S, LOOKS, look_of


@signed_in
def look(request: HttpRequest) -> HttpResponse:
    """Show and take the look of this device."""
    if request.method != "POST":
        return choices(request)
    chosen = request.POST.get("look", "")
    if chosen not in LOOKS:
        sentence = _("The look is “%(value)s”; allowed is one of those below.") % {"value": chosen[:40]}
        return choices(request, sentence, status=422)
    response = redirect("look")
    # Read by our script too: a page kept for use without a signal was made before the choice.
    response.set_cookie(COOKIE, chosen, max_age=KEPT_S, samesite="Lax", secure=request.is_secure())
    return response


def choices(request: HttpRequest, sentence: str = "", status: int = 200) -> HttpResponse:
    """The page with the looks to choose from."""
    looks = [{"key": key, "title": title, "words": words} for key, (title, words) in LOOKS.items()]
    context = {"looks": looks, "chosen": look_of(request), "sentence": sentence}
    return render(request, "home/look.html", context, status=status)
