"""Links to a season's review for people outside the crew: read-only, and closed again by the keeper."""

from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.crew.tokens import token_of
from rinklog.facts import Conflict, Refused
from rinklog.reports import queries, services
from rinklog.reports.models import BuiltReview, SharedLink
from rinklog.reports.review.stored import COUNCIL, for_readers, from_json
from rinklog.reports.review.tables import EVERYBODY
from rinklog.web.access import At, anybody, found, on_rink
from rinklog.web.panels import posted
from rinklog.web.reports.review import csv_answer, current, file_answer, for_built, pictures
from rinklog.web.reports.views import season_of


class ShareForm(forms.Form):
    """Whom a link is for, and whether it shows the money."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    for_whom = forms.CharField(label=lazy("For whom"), max_length=120)
    with_money = forms.BooleanField(label=lazy("Show the money too"), required=False)


@on_rink(Right.KEEP)
def share(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """The links to a season's review, and a form for another."""
    season = season_of(at, id)
    form = ShareForm(posted(request))
    if request.method == "POST" and form.is_valid():
        try:
            services.share_season(season=season, by=at.person, now=at.now, **form.cleaned_data)
        except Refused as refused:
            form.add_error(refused.field, str(refused.sentence))
        except Conflict:
            form.add_error(None, lazy("Another link has this form's number already; open the page again."))
        else:
            current(season, at)  # what is shared is there before the link is opened
            return redirect("review-share", slug=at.rink.slug, id=season.id)
    links = [(link, address(request, link)) for link in queries.shared_links(season)]
    context = {"season": season, "form": form, "links": links}
    return render(request, "reports/share.html", context, status=422 if request.method == "POST" else 200)


def address(request: HttpRequest, link: SharedLink) -> str:
    """The whole address of a link."""
    return request.build_absolute_uri(reverse("shared-review", kwargs={"token": token_of(link.id)}))


@on_rink(Right.KEEP)
@require_POST
def share_revoke(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Close a link for good."""
    link = at.shared_link(id)
    services.revoke_link(link=link, now=at.now)
    return redirect("review-share", slug=at.rink.slug, id=link.season_id)


def opened(token: str) -> tuple[SharedLink, BuiltReview, str]:
    """A link that is open, what is built behind it, and what its readers see; 404 for any other token."""
    link = found(queries.link_of_token(token))
    built = found(queries.built_review(link.season))
    if not built.content:
        raise Http404
    return link, built, COUNCIL if link.with_money else EVERYBODY


@anybody
def shared_review(request: HttpRequest, token: str) -> HttpResponse:
    """The review as last built, for whoever holds the link."""
    link, built, readers = opened(token)
    context: dict[str, Any] = {"season": link.season, "built": built, "link": link}
    context |= pictures(link.season, for_readers(from_json(built.content), readers))
    return outside(render(request, "reports/shared.html", context))


@anybody
def shared_file(request: HttpRequest, token: str, name: str) -> HttpResponse:
    """A file of a shared review: the PDF, the spreadsheet, or one table as CSV."""
    link, built, readers = opened(token)
    if name.endswith(".csv"):
        return outside(csv_answer(link.season, for_built(built, readers), name.removesuffix(".csv")))
    return outside(file_answer(link.season, built, name, readers))


def outside(response: HttpResponse) -> HttpResponse:
    """Keep what is shared out of search engines and shared caches."""
    response.headers["X-Robots-Tag"] = "noindex, nofollow"
    response.headers["Cache-Control"] = "private, no-store"
    response.headers["Referrer-Policy"] = "no-referrer"
    return response
