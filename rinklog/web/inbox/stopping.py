"""Stopping mail by the link in it: a page with a button for people, a bare POST for mail programs (RFC 8058)."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.csrf import csrf_exempt

from rinklog.telling.stopping import stop_mail, wishes_behind
from rinklog.web.access import anybody, found


@anybody
@csrf_exempt  # a mail program has no form of ours; the signed link is what counts
def stop(request: HttpRequest, token: str) -> HttpResponse:
    """Ask, and on POST stop. Opening the link alone stops nothing: programs that look into mails open links too."""
    wishes = found(wishes_behind(token))
    if request.method == "POST":
        stop_mail(wishes=wishes)
        wishes.by_mail = False
    return render(request, "inbox/stop.html", {"wishes": wishes})
