"""The inbox: what this person was told about this rink, and what became of each mail and push."""

import datetime as dt
from uuid import UUID

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.dateparse import parse_datetime
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.telling import queries, services
from rinklog.telling.kinds import KINDS
from rinklog.web.access import At, on_rink

A_PAGE = 30


@on_rink(Right.SEE)
def inbox(request: HttpRequest, at: At) -> HttpResponse:
    """The latest messages first; the unread ones stand out."""
    page = Paginator(queries.inbox(at.person, at.rink), A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "messages_shown": list(page), "titles": TITLES, "until": at.now.isoformat()}
    return render(request, "inbox/inbox.html", context)


TITLES = {kind.key: kind.title for kind in KINDS.values()}


@on_rink(Right.SEE)
@require_POST
def open_message(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Mark one message as read and go where it points."""
    message = at.message(id)
    services.mark_read(message=message, now=at.now)
    return redirect(message.url) if message.url else redirect("inbox", slug=at.rink.slug)


@on_rink(Right.SEE)
@require_POST
def read_all(request: HttpRequest, at: At) -> HttpResponse:
    """Mark as read what the page showed; what came since stays unread."""
    until = moment(request.POST.get("until", "")) or at.now
    services.mark_all_read(person=at.person, rink=at.rink, until=min(until, at.now), now=at.now)
    return redirect("inbox", slug=at.rink.slug)


def moment(text: str) -> dt.datetime | None:
    """An aware moment that a form carried, or None."""
    try:
        found = parse_datetime(text)
    except ValueError:
        return None
    return found if found and found.tzinfo else None
