"""Private calendar links: made, shown, closed; and the calendar behind one."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.cache import get_conditional_response
from django.utils.http import quote_etag
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from rinklog.crew.rights import Right
from rinklog.crew.tokens import matches, token_of
from rinklog.facts import Refused, fingerprint_of
from rinklog.plan.calendar import calendar_text
from rinklog.plan.queries.calendar import shifts_shown
from rinklog.telling import queries, services
from rinklog.telling.models import CalendarLink
from rinklog.web.access import At, anybody, found, on_rink
from rinklog.web.inbox.wishes import origin_of


@on_rink(Right.LOG)
@never_cache
def calendars(request: HttpRequest, at: At) -> HttpResponse:
    """One's calendar links, to copy into a calendar."""
    return page(request, at)


def page(request: HttpRequest, at: At, sentence: str = "", status: int = 200) -> HttpResponse:
    """The page, with what was wrong."""
    links = queries.calendar_links(at.person, at.rink)
    choices = [
        {"what": what, "title": title, "address": address_of(request, links.get(what))}
        for what, title in CalendarLink.What.choices
    ]
    context = {"choices": choices, "sentence": sentence}
    return render(request, "inbox/calendars.html", context, status=status)


def address_of(request: HttpRequest, link: CalendarLink | None) -> str:
    """The whole address behind a link; empty when there is none, or when the site's secret key was changed."""
    if link is None or not matches(token_of(link.id), link.token_hash):
        return ""
    return request.build_absolute_uri(reverse("calendar-feed", args=[token_of(link.id)]))


@on_rink(Right.LOG)
@require_POST
def make(request: HttpRequest, at: At) -> HttpResponse:
    """Make a link, or a new one in place of one that may have got into wrong hands."""
    what = request.POST.get("what", "")
    try:
        if request.POST.get("again"):
            services.revoke_calendar_link(person=at.person, rink=at.rink, what=what, now=at.now)
        services.make_calendar_link(person=at.person, rink=at.rink, what=what, now=at.now)
    except Refused as refused:
        return page(request, at, str(refused.sentence), status=422)
    return redirect("calendars", slug=at.rink.slug)


@on_rink(Right.LOG)
@require_POST
def revoke(request: HttpRequest, at: At) -> HttpResponse:
    """Close a link."""
    services.revoke_calendar_link(
        person=at.person, rink=at.rink, what=request.POST.get("what", ""), now=at.now
    )
    return redirect("calendars", slug=at.rink.slug)


@anybody
@require_safe
def feed(request: HttpRequest, token: str) -> HttpResponse:
    """The calendar behind a link: whoever holds the link may read it, until it is closed or its person leaves."""
    link = found(queries.calendar_link(token))
    whose: Any = link.person if link.what == CalendarLink.What.MINE else None
    now = timezone.now()
    with translation.override(link.person.language):
        text = calendar_text(
            rink=link.rink,
            shifts=shifts_shown(link.rink, whose, now),
            person=whose,
            origin=origin_of(request),
            now=now,
        )
    etag = quote_etag(fingerprint_of({"text": text.decode()}))
    response = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    response.headers["ETag"] = etag
    response.headers["Cache-Control"] = "private, max-age=300"
    response.headers["Content-Disposition"] = f'inline; filename="{link.rink.slug}-{link.what}.ics"'
    return get_conditional_response(request, etag=etag, response=response) or response
