"""Style sheets inside the page for a browser that has none of them yet: its first paint then waits for nothing else.

A phone whose service worker has kept them all says so with a cookie and gets links, and with them smaller pages. The
policy names every sheet in a page by its digest (CSP Level 3, hash-source), so no other style can slip in.
"""

import base64
import hashlib
from functools import cache
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles.finders import find
from django.http import HttpRequest, HttpResponse
from django.templatetags.static import static
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from rinklog.web.middleware import Handler
from rinklog.web.offline import precache

COOKIE = "rinklog-sheets"


def has_sheets(request: HttpRequest) -> bool:
    """Whether this browser keeps today's sheets."""
    return request.COOKIES.get(COOKIE) == precache.version()


def sheet(request: HttpRequest | None, name: str) -> SafeString:
    """A style sheet by its name under static: a link, or its text with the digest noted on the request.

    A page made for everybody has no request; whoever sends it calls `carried` with the sheets it carries.
    """
    if request is not None and has_sheets(request):
        return format_html('<link rel="stylesheet" href="{}">', static(name))
    text, digest = within(name)
    if request is not None:
        vars(request).setdefault("sheet_digests", []).append(digest)
    return mark_safe(f"<style>{text}</style>")  # a file of ours; a test holds that it contains no tag


def carried(request: HttpRequest, names: tuple[str, ...]) -> None:
    """Note the sheets of a page that was made without this request."""
    vars(request)["sheet_digests"] = [within(name)[1] for name in names]


def within(name: str) -> tuple[str, str]:
    """The text of a sheet and its CSP source; read once unless the site is being worked on."""
    return read(name) if settings.DEBUG else kept(name)


def read(name: str) -> tuple[str, str]:
    """Read a sheet; its digest is over exactly what stands between the tags."""
    text = Path(str(find(name))).read_text()
    digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return text, f"'sha256-{digest}'"


kept = cache(read)


class SheetsInPolicy:
    """Allow in the content security policy the sheets that the page carries, and no others."""

    def __init__(self, get_response: Handler) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if digests := getattr(request, "sheet_digests", None):
            vars(response)["_csp_update"] = {"style-src": digests}
        return response
