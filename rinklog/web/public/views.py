"""The rink's page for skaters: read without signing in, the same for everybody who reads alike."""

import re

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.template.loader import render_to_string
from django.utils import translation
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_safe

from rinklog.web import sheets
from rinklog.web.access import anybody, public_rink
from rinklog.web.errors import page
from rinklog.web.middleware import reading_in
from rinklog.web.public.kept import Ready, ready
from rinklog.web.public.reading import UNITS, Reading, Unreadable, reading_of
from rinklog.web.public.showing import page_of

# Half a minute in a reader's browser or a proxy; after that it asks whether the page is still the same.
CACHE = "public, max-age=30"
SHEETS = tuple(f"css/{name}.css" for name in ("rinklog", "marks", "records", "public"))
TAKES_GZIP = re.compile(r"\bgzip\b")  # as the site's own middleware decides for every other page


@anybody
@require_safe
def rink(request: HttpRequest, slug: str) -> HttpResponseBase:
    """Whether the rink is open, where the cones are, what was done last."""
    try:
        reading = reading_of(request.headers.get("Accept-Language", ""), request.GET)
    except Unreadable as told:
        return page(request, 422, str(told))
    return answer(request, ready((slug, reading), lambda: rendered(slug, reading)), reading)


def rendered(slug: str, reading: Reading) -> tuple[str, bool]:
    """The page in one language and one system of units, and whether search engines may list it; else 404."""
    at = public_rink(slug)
    with translation.override(reading.language), reading_in(UNITS[reading.units]):
        context = page_of(at) | {
            "reading": reading,
            "languages": settings.LANGUAGES,
            "units": UNITS,
            "sheets": SHEETS,
        }
        return render_to_string("public/rink.html", context), at.listed


def answer(request: HttpRequest, made: Ready, reading: Reading) -> HttpResponseBase:
    """The page as this reader's browser takes it, or "not modified"."""
    sheets.carried(request, SHEETS)
    packed = bool(TAKES_GZIP.search(request.headers.get("Accept-Encoding", "")))
    tag = f'"{made.tag}-gz"' if packed else f'"{made.tag}"'
    headers = {
        "ETag": tag,
        "Cache-Control": CACHE,
        "Content-Language": reading.language,
        "Vary": "Accept-Language, Accept-Encoding",
        # RFC 6596: one address for all languages and units. Absolute, so it cannot stand in the kept page itself.
        "Link": f'<{request.build_absolute_uri(request.path)}>; rel="canonical"',
    }
    if packed:
        headers["Content-Encoding"] = "gzip"
    if not made.listed:
        headers["X-Robots-Tag"] = "noindex"
    response = HttpResponse(made.packed if packed else made.plain, headers=headers)
    return get_conditional_response(request, etag=tag, response=response) or response
