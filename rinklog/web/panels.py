"""A page for a browser, one panel of it for htmx: the same view answers both."""

from typing import Any

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render


def reply(
    request: HttpRequest, page: str, panel: str, context: dict[str, Any], status: int = 200
) -> HttpResponse:
    """Render `panel` when htmx asked for it by the panel's id, else the whole `page`."""
    htmx = getattr(request, "htmx", None)
    template = panel if htmx and not htmx.boosted and not htmx.history_restore_request else page
    response = render(request, template, context, status=status)
    response.headers["Vary"] = ", ".join(filter(None, [response.headers.get("Vary"), "HX-Request"]))
    return response


def posted(request: HttpRequest) -> QueryDict | None:
    """What a form is bound to: the post, even an empty one, or nothing while it is only shown."""
    return request.POST if request.method == "POST" else None
